/** Every word on a drawing that is ours, from the catalogue, in one language. */
import type { Value } from "../../handover/guide/guide.ts";
import { type Speak, speaker } from "../../handover/words/catalogue.ts";
import { EN } from "../../handover/words/en.ts";
import { type Measures, measuresOf } from "../../handover/words/measures.ts";
import type { MessageKey } from "../../handover/words/messages.ts";
import type { Language } from "../../model/hand-over-options.ts";
import type { EdgeKind, Role } from "../../model/roles.ts";
import type { StyleName } from "../style/plan-style.ts";
import { lettered } from "./lettering.ts";

/** What a finding is told by on a drawing. */
export interface ToldFinding {
  readonly code: string;
  readonly message: string;
  readonly east_m: number | null;
  readonly north_m: number | null;
}

export type SheetWords = ReturnType<typeof sheetWords>;

/**
 * @param speak of the language, with names made fit for drawings (`lettered`)
 * @param measures how figures are written in it
 */
export function sheetWords(language: Language, speak: Speak, measures: Measures) {
  const say = (key: MessageKey, values: Readonly<Record<string, Value>> = {}): string =>
    speak({ key, values });
  const { number } = measures;
  const perhaps = (key: string, other: string): string =>
    Object.hasOwn(EN, key) ? say(key as MessageKey) : other;
  return {
    language,
    say,
    number,
    /** Lengths and areas as the summary for people rounds them. */
    drawn: (value: number): string => number(value, 1),
    drawing: say("sheet.drawing"),
    overview: say("sheet.overview"),
    notes: say("sheet.notes"),
    project: say("sheet.project"),
    client: say("sheet.client"),
    title: say("sheet.title"),
    drawingNumber: say("sheet.drawingNumber"),
    drawnBy: say("sheet.drawnBy"),
    checkedBy: say("sheet.checkedBy"),
    date: say("sheet.date"),
    revision: say("sheet.revision"),
    scale: say("sheet.scale"),
    sheet: say("sheet.sheet"),
    sheetOf: (number: number, count: number) => say("sheet.sheetOf", { number, count }),
    scaleOn: (scale: number, paper: string) => say("sheet.scaleOn", { scale, paper }),
    noScale: say("sheet.noScale"),
    madeBy: (tool: string, machine: string) => say("sheet.madeBy", { tool, machine }),
    grid: (lat: string, lon: string) => say("sheet.grid", { lat, lon }),
    print: (length: string) => say("sheet.print", { length }),
    legend: say("sheet.legend"),
    keyPlan: say("sheet.keyPlan"),
    loops: say("sheet.loops"),
    passages: say("sheet.passages"),
    setins: say("sheet.setins"),
    cautions: say("sheet.cautions"),
    errors: say("sheet.errors"),
    errorsText: (count: number) => say("sheet.errorsText", { count }),
    revisions: say("sheet.revisions"),
    revisionShort: say("sheet.revisionShort"),
    revisedBy: say("sheet.revisedBy"),
    revisionText: say("sheet.revisionText"),
    joints: say("sheet.joints"),
    joint: say("sheet.joint"),
    peg: say("sheet.peg"),
    along: say("sheet.along"),
    alongGround: say("sheet.alongGround"),
    again: say("sheet.again"),
    east: say("sheet.east"),
    north: say("sheet.north"),
    place: say("sheet.place"),
    pegTable: say("sheet.pegTable"),
    pegNote: say("sheet.pegNote"),
    joins: say("sheet.joins"),
    joinsReels: (loop: string, from: number, to: number) =>
      say("sheet.joinsReels", { loop, from, to }),
    joinsWire: (loop: string) => say("sheet.joinsWire", { loop }),
    joinsGuide: (loop: string) => say("sheet.joinsGuide", { loop }),
    jointMark: say("sheet.jointMark"),
    continued: (title: string) => say("sheet.continued", { title }),
    loop: say("sheet.loop"),
    loopHead: say("sheet.loopHead"),
    loopNamed: (loop: string) => say("sheet.loopNamed", { loop }),
    total: say("sheet.total"),
    wire: say("sheet.wire"),
    onGround: say("sheet.onGround"),
    pegs: say("sheet.pegs"),
    paired: say("sheet.paired"),
    islands: say("sheet.islands"),
    mown: say("sheet.mown"),
    ohm: say("sheet.ohm"),
    ohmRange: say("sheet.ohmRange"),
    passage: say("sheet.passage"),
    width: say("sheet.width"),
    wireWidth: say("sheet.wireWidth"),
    verdict: say("sheet.verdict"),
    quantities: say("sheet.quantities"),
    buyWire: (length: string, laid: string) => say("sheet.buyWire", { length, laid }),
    buyPegs: (count: number, set: number) => say("sheet.buyPegs", { count, set }),
    buyReels: (reels: number, size: string, joints: number) =>
      say("sheet.buyReels", { reels, size, joints }),
    areas: (mown: string, trim: string, cutOff: string) =>
      say("sheet.areas", { mown, trim, cutOff }),
    ohmNote: say("sheet.ohmNote"),
    pegStraight: say("sheet.pegStraight"),
    pegBend: say("sheet.pegBend"),
    pegPair: say("sheet.pegPair"),
    pegNumbers: (every: number) => say("sheet.pegNumbers", { every }),
    arrow: say("sheet.arrow"),
    pairNote: say("sheet.pairNote"),
    stationName: say("sheet.stationName"),
    station: say("sheet.station"),
    outlet: say("sheet.outlet"),
    control: say("sheet.control"),
    edge: say("sheet.edge"),
    setinMark: say("sheet.setinMark"),
    passageMark: say("sheet.passageMark"),
    loopWire: (length: string) => say("sheet.loopWire", { length }),
    loopMown: (area: string) => say("sheet.loopMown", { area }),
    seeSheet: (number: number) => say("sheet.seeSheet", { number }),
    image: (name: string) => say("sheet.image", { name }),
    materials: say("sheet.materials"),
    material: say("sheet.material"),
    unit: say("sheet.unit"),
    pieces: say("sheet.pieces"),
    used: say("sheet.used"),
    spare: say("sheet.spare"),
    toBuy: say("sheet.toBuy"),
    unknown: say("sheet.unknown"),
    materialsNote: say("sheet.materialsNote"),
    bill: say("sheet.bill"),
    item: say("sheet.item"),
    quantity: say("sheet.quantity"),
    unitPrice: say("sheet.unitPrice"),
    amount: (currency: string) => say("sheet.amount", { currency }),
    net: say("sheet.net"),
    tax: (rate: string) => say("sheet.tax", { rate }),
    sum: say("sheet.sum"),
    billNote: say("sheet.billNote"),
    reels: say("sheet.reels"),
    reel: say("sheet.reel"),
    from: say("sheet.from"),
    to: say("sheet.to"),
    cut: say("sheet.cut"),
    left: say("sheet.left"),
    endsAt: say("sheet.endsAt"),
    guideOf: (loop: string) => say("sheet.guideOf", { loop }),
    alternatives: say("sheet.alternatives"),
    reelSize: say("sheet.reelSize"),
    count: say("sheet.count"),
    couplers: say("sheet.couplers"),
    leftOver: say("sheet.leftOver"),
    price: (currency: string) => say("sheet.price", { currency }),
    chosen: say("sheet.chosen"),
    places: {
      straight: say("peg-place.straight"),
      bend: say("peg-place.bend"),
      pair: say("peg-place.pair"),
      station: say("peg-place.station"),
    },
    verdicts: {
      mow: say("verdict.mow"),
      drive: say("verdict.drive"),
      shut: say("verdict.shut"),
    },
    role: (role: Role): string => perhaps(`role.${role}`, role),
    edgeKind: (kind: EdgeKind): string => say(`edge.${kind}`),
    style: (name: StyleName, label: string): string => perhaps(`style.${name}`, label),
    caution: (code: string, text: string): string => perhaps(`caution.${code}`, text),
    /**
     * A finding in the language of the drawing. In English it is told whole; in others by the sentence
     * of its code and its place: figures stand in the summary.
     */
    finding: ({ code, message, east_m: east, north_m: north }: ToldFinding): string => {
      if (language === "en") return `${code}: ${lettered(message)}`;
      const text = perhaps(`finding.${code}`, say("finding.other"));
      return east === null || north === null
        ? say("finding.nowhere", { text, code })
        : say("finding.at", { text, code, east: number(east, 1), north: number(north, 1) });
    },
  };
}

/** The words where no language is chosen. */
export function englishWords(): SheetWords {
  const measures = measuresOf("en", "m");
  return sheetWords("en", speaker("en", EN, measures, lettered), measures);
}

import { DE_SHEET } from "./de-sheet.ts";
import type { Messages } from "./messages.ts";

/** Everything that is said to the crew, in German. Same keys and placeholders as in English. */
export const DE: Messages = {
  ...DE_SHEET,
  "caution.CHECK_ON_SITE":
    "Ein Plan ist so gut wie der Umriss, aus dem er entstand: Längen vor Ort prüfen, bevor Draht geschnitten wird.",
  "caution.BURIED_SERVICES":
    "Erdkabel, Gas, Wasser und Bewässerung orten, bevor Nägel eingeschlagen, Gräben gezogen oder die Station verschraubt wird.",
  "caution.SUPPLY_OFF":
    "Den Draht nur bei abgeschalteter Versorgung an- und abklemmen. Arbeiten am Netz, Außensteckdosen und feste Leitungen sind Sache von Elektrofachkräften nach örtlichen Vorschriften; eine Außensteckdose hat einen Fehlerstromschutz von 30 mA (IEC 60364-4-41).",
  "caution.OPEN_WATER":
    "Auf diesem Gelände gibt es offenes Wasser. Ein Draht kann versagen: Zwischen Wasser und Maschine gehört ein Zaun, eine Kante oder eine Mauer.",
  "caution.DROP":
    "Auf diesem Gelände gibt es einen Absatz. Ein Draht kann versagen: Eine Stufe oder steile Böschung braucht eine feste Absperrung.",
  "caution.STEEP_GROUND":
    "Auf diesem Gelände gibt es steilen Boden. Am Hang rutscht eine Maschine, bei Nässe erst recht, und ein Draht hält sie nicht: Wo der Boden abfällt, eine feste Absperrung setzen und die Hänge mit der Maschine erproben, bevor sie allein fährt.",
  "caution.WIRE_ACROSS_PAVING":
    "Pflaster grenzt an den Rasen: Wo der Draht es quert, liegt er in einem Sägeschnitt oder einer Fuge unter der Oberfläche, nie lose darauf.",
  "caution.SEALED_JOINTS":
    "Auf diesem Gelände wird Draht verbunden, Rolle mit Rolle oder Leitdraht mit Schleife: dichte Verbinder nehmen, ihre Lage im Plan vermerken und den Rest der Rolle für Reparaturen aufheben.",
  "caution.PROVE_THE_STATION":
    "Der Platz der Station wurde allein aus dem Umriss gewählt. Prüfen, ob er eben ist, mittags im Schatten, nahe einer Außensteckdose und von der Straße nicht zu sehen; erst festschrauben, wenn Schleife und Andocken erprobt sind.",
  "caution.BLADES":
    "Die Maschine ausschalten und Handschuhe anziehen, bevor sie umgedreht wird; Kinder und Haustiere fernhalten, solange sie arbeitet (IEC 60335-2-107).",
  "caution.WILDLIFE":
    "Bei Tag mähen: Nachts kommen Igel und andere Tiere zu Schaden, und vielerorts ist es eingeschränkt.",
  "caution.SURFACE_WIRE":
    "Vertikutieren und Lüften durchtrennen Draht an der Oberfläche: ihn vorher kennzeichnen.",

  "guide.title": "Verlegeanleitung: {site}",
  "guide.step": "Nr.",
  "guide.laid": "verlegt",

  "before.title": "Vor dem Beginn",
  "before.errors":
    "HALT: {count, plural, one {# Befund sagt} other {# Befunde sagen}}, dass dieser Plan so nicht verlegt werden darf. Zuerst die Befunde in der Übersicht lesen.",
  "before.how":
    "Die Schritte stehen in der Reihenfolge des Verlegens. Der Rasen liegt immer zur linken Hand: gegen den Uhrzeigersinn, von der Station bis zurück zur Station. Die Zahl neben jedem Schritt ist der Draht, der seit der Station liegt.",
  "before.lengths":
    "Längen gelten {ground, select, yes {entlang des Bodens, nach den gegebenen Höhen} other {waagrecht wie im Plan; am Hang zeigt das Band mehr}}. {numbers, select, kept {Nägel, die bleiben, behalten ihre Nummern, neue haben die nächsten freien: nach der Reihenfolge der Schritte gehen, nicht nach den Nummern} other {Die Nägel sind so nummeriert, wie der Draht zu ihnen kommt}}; in pegs.csv steht der Ort eines jeden.",
  "before.revision":
    "Dieser Plan ändert einen Draht, der schon liegt: revision.geojson sagt, welcher Draht und welche Nägel bleiben, was gehoben und was neu verlegt wird. Die Schritte nennen den ganzen Draht; wo er bleibt, nur nachsehen.",
  "before.pegs":
    "Den Draht unter jedem Nagel einhängen und gerade ziehen, nicht straff. Nägel halb einschlagen; erst bündig, wenn die Schleife erprobt ist.",
  "before.lawn":
    "Den Rasen kurz mähen und abräumen. Das Abstandsmaß bereithalten: Der Abstand zählt vom Rand bis zum Draht.",
  "before.buy":
    "Gebraucht werden {wire} Draht auf {reels, plural, one {# Rolle} other {# Rollen}} zu {reel}, {pegs, plural, one {# Nagel} other {# Nägel}} mit Reserve, {couplers, plural, =0 {kein Verbinder} one {# dichter Verbinder} other {# dichte Verbinder}}, {connectors, plural, one {# Klemme} other {# Klemmen}} und {stations, plural, one {# Station} other {# Stationen}} mit {fixings, plural, one {# Schraube} other {# Schrauben}}.",
  "before.lead":
    "Zuleitung von der Station der Schleife {loop} zur nächsten Steckdose: mindestens {length} um Rasen und Gebäude herum; mehr auf dem wirklichen Weg.",
  "before.reels":
    "Jede Rolle vor dem Verlegen von Ende zu Ende messen: Eine volle zeigt etwa {ohm}. Keine Anzeige: Der Draht darauf ist gebrochen.",

  "loop.title":
    "Schleife {loop}: {wire} Draht, {pegs, plural, one {# Nagel} other {# Nägel}}{islands, plural, =0 {} one {, # Insel} other {, # Inseln}}",
  "loop.reel": "Mit Rolle {reel} beginnen.",
  "loop.reelRest": "Mit dem Rest auf Rolle {reel} beginnen.",

  "station.set":
    "Die Station bei {peg} lose hinstellen. Die Maschine fährt entlang des Drahtes ein, nach {heading} ({bearing}°).",
  "station.tie":
    "{peg} liegt {first} von {from} und {second} von {and} entfernt, {side, select, left {links} other {rechts}}, vom ersten zum zweiten gesehen.",
  "station.straight":
    "{length} Draht liegen auf der kürzeren Seite gerade: Nichts darf ihn dort knicken.",
  "station.spare": "Bei {peg} {spare} Draht für die Klemme frei lassen und von dort verlegen.",
  "station.chosen":
    "Dieser Platz wurde allein aus dem Umriss gewählt: prüfen, ob er eben ist, mittags im Schatten, nahe einer Steckdose und von der Straße nicht zu sehen.",

  "lay.straight": "Von {from} {length} gerade {beside} bis {to}{between}.",
  "lay.curve":
    "Von {from} {length} {beside} im Bogen nach {side, select, left {links} other {rechts}} bis {to}{between}.",
  "lay.winding": "Von {from} {length} {beside}, seinen Biegungen nach, bis {to}{between}.",
  "lay.around": "Von {from} ganz herum und zurück, {length} {beside}{between}.",
  "lay.keep": "Abstand {gap}.",
  "lay.keepRange": "Abstand {least} bis {most}.",
  "lay.turn": "Nach {side, select, left {links} other {rechts}} abbiegen (etwa {angle}°).",
  "lay.bear": "Leicht nach {side, select, left {links} other {rechts}} (etwa {angle}°).",

  "between.row": "{from} bis {to}",
  "between.one": ", dazwischen {peg} nach {gap}",
  "between.even": ", dazwischen {pegs} alle {gap}",
  "between.uneven": ", dazwischen {pegs} im Abstand von {least} bis {most}",

  "beside.open": "am Rasenrand entlang",
  "beside.openOf": "an „{name}“ entlang",
  "beside.wall": "an der Mauer entlang",
  "beside.wallOf": "an der Mauer von „{name}“ entlang",
  "beside.fence": "am Zaun entlang",
  "beside.fenceOf": "am Zaun von „{name}“ entlang",
  "beside.hedge": "an der Hecke entlang",
  "beside.hedgeOf": "an der Hecke von „{name}“ entlang",
  "beside.kerb": "an der Kante entlang",
  "beside.kerbOf": "an der Kante von „{name}“ entlang",
  "beside.flush": "am ebenen Pflaster entlang",
  "beside.flushOf": "am ebenen Pflaster von „{name}“ entlang",
  "beside.water": "am Wasser entlang",
  "beside.waterOf": "am Wasser von „{name}“ entlang",
  "beside.drop": "am Absatz entlang",
  "beside.dropOf": "am Absatz von „{name}“ entlang",
  "beside.loop": "am Draht der anderen Schleife entlang",
  "beside.loopOf": "am Draht der Schleife {name} entlang",
  "beside.lawn": "über den offenen Rasen",
  "beside.lawnOf": "über den offenen Rasen",
  "beside.across": "quer über das ebene Pflaster",
  "beside.acrossOf": "quer über das ebene Pflaster von „{name}“",

  "run.out":
    "Bei {from} {where, select, edge {den Rand} other {den Ring}} verlassen und hinaus zu {name}: {length} bis {to}{between}.",
  "run.outPart":
    "Bei {from} {where, select, edge {den Rand} other {den Ring}} verlassen und hinaus zum nächsten Teil des Rasens: {length} bis {to}{between}.",
  "run.outFork":
    "Bei {from} {where, select, edge {den Rand} other {den Ring}} verlassen und hinaus zur Gabelung bei {to}: {length}{between}.",
  "run.on": "Von der Gabelung bei {from} weiter zu {name}: {length} bis {to}{between}.",
  "run.onPart":
    "Von der Gabelung bei {from} weiter zum nächsten Teil des Rasens: {length} bis {to}{between}.",
  "run.onFork": "Von der Gabelung bei {from} weiter zur nächsten bei {to}: {length}{between}.",
  "run.pair":
    "Beide Drähte dieser Strecke teilen sich die Nägel: diesen {side, select, left {links} other {rechts}} davon legen und die Nägel überstehen lassen.",
  "run.round":
    "Nun um {name} herum, im Uhrzeigersinn, zur rechten Hand, und zurück zu {peg}: zusammen {length}.",
  "run.roundPart":
    "Nun um diesen Teil herum, gegen den Uhrzeigersinn, den Rasen zur linken Hand, und zurück zu {peg}: zusammen {length}.",
  "run.back":
    "{name} ist umlegt. Auf denselben Nägeln{between} zurück zu {to}: {length}, wieder {side, select, left {links} other {rechts}} davon, dicht neben dem ersten Draht und nie über ihn. Diese Nägel über beiden einschlagen.",
  "run.backPart":
    "Dieser Teil ist umlegt. Auf denselben Nägeln{between} zurück zu {to}: {length}, wieder {side, select, left {links} other {rechts}} davon, dicht neben dem ersten Draht und nie über ihn. Diese Nägel über beiden einschlagen.",
  "run.backFork":
    "Auf denselben Nägeln{between} zurück zu {to}: {length}, wieder {side, select, left {links} other {rechts}} davon, dicht neben dem ersten Draht und nie über ihn. Diese Nägel über beiden einschlagen.",
  "run.betweenBack": " ({pegs})",

  "joint.reels":
    "Hier endet Rolle {before}. Rolle {after} bei {peg} mit einem dichten Verbinder anschließen ({joint}) und die Stelle im Plan vermerken.",
  "joint.left": "{left} Draht bleiben auf Rolle {reel}.",
  "joint.test":
    "An beiden Drähten des Verbinders ziehen; dann vom ersten Ende an der Station bis zum Ende auf der neuen Rolle messen: Es muss eine Anzeige geben.",

  "passage.drive":
    "Dieser Draht schließt Durchgang {number} ein: quer bis zum Draht oder festen Rand gegenüber messen, {width} an der engsten Stelle. Die Maschine fährt nur hindurch.",
  "passage.mow":
    "Dieser Draht schließt Durchgang {number} ein: quer bis zum Draht oder festen Rand gegenüber messen, {width} an der engsten Stelle.",
  "passage.shut":
    "Durchgang {number} ({width} von Rand zu Rand) bleibt draußen: Der Draht geht an ihm vorbei, nicht hinein.",

  "note.water":
    "Wasser: Der Draht allein hält die Maschine nicht. Dafür sorgen, dass ein Zaun, eine Kante oder eine Mauer dazwischen steht, bevor es weitergeht.",
  "note.drop":
    "Ein Absatz: Der Draht allein hält die Maschine nicht. Er braucht eine Absperrung, die hält.",
  "note.across": "Den Draht hier in eine Fuge oder einen Sägeschnitt unter die Oberfläche legen.",

  "close.back":
    "Zurück an der Station: {laid} liegen. Bei {peg} {spare} frei lassen, abschneiden und dieses Ende als das ankommende kennzeichnen.",
  "close.left": "{left} Draht bleiben auf Rolle {reel}: für Reparaturen aufheben.",

  "guide-wire.out":
    "Leitdraht von Rolle {reel}: an der Station {spare} frei lassen, dann geradeaus {length} bis {to}{between}.",
  "guide-wire.straight": "Von {from} {length} gerade weiter bis {to}{between}.",
  "guide-wire.curve": "Von {from} {length} weiter, seinen Biegungen nach, bis {to}{between}.",
  "guide-wire.keep": "Von allem anderen Draht und von Festem {clearance} Abstand halten.",
  "guide-wire.join":
    "Den Leitdraht bei {peg} mit einem dichten Verbinder an den Draht der Schleife anschließen ({joint}); {laid} Leitdraht liegen.",

  "prove.title": "Schleife {loop} erproben",
  "prove.reading":
    "Bevor die Enden an die Station kommen, bei abgeschalteter Versorgung zwischen ihnen messen: etwa {expected} bei 20 °C; gut von {least} bis {most}.",
  "prove.wrong":
    "Keine Anzeige oder Kiloohm: Der Draht ist gebrochen. Darüber: ein schlechter Verbinder. Darunter: Es fehlt Draht im Kreis, oder zwei Stellen berühren sich.",
  "prove.connect":
    "Die Enden bis zu den Klemmen kürzen, 10 bis 15 mm abisolieren und bei abgeschalteter Versorgung anklemmen: das abgehende und das ankommende, wie die Station bezeichnet ist. Vertauscht wird innen zu außen.",
  "prove.power": "Einschalten: Die Station muss eine geschlossene Schleife melden.",
  "prove.walk":
    "Den Draht abgehen: Keiner steht hoch, keine zwei kreuzen sich, jeder Nagel hält. Dann die Nägel bündig einschlagen.",
  "prove.islands":
    "Der Maschine bei {names} zusehen: Sie muss am Draht wenden und über die Doppelstrecken fahren.",
  "prove.passages":
    "Die Maschine in beiden Richtungen durch {count, plural, one {Durchgang {numbers}} other {die Durchgänge {numbers}}} schicken.",
  "prove.dock":
    "Die Maschine dreimal zur Station finden lassen, dann die Station mit {fixings, plural, one {# Schraube} other {# Schrauben}} befestigen.",

  "mind.title": "Beachten",
  "mind.record":
    "Übergeben: den Plan mit jeder Änderung, die Messwerte der Schleifen mit Tag und Wetter, Reste von Draht und Nägeln, und wie man die Maschine anhält.",

  "control.given": "{name}",
  "control.mark": "der Marke {name}",
  "control.building": "der {side} Ecke von „{name}“",
  "control.firm": "der {side} Ecke von „{name}“",
  "control.lawn": "der {side} Ecke von „{name}“",
  "control.edge": "der Stelle am {side} Rand von „{name}“",

  "side.N": "nördlichen",
  "side.NE": "nordöstlichen",
  "side.E": "östlichen",
  "side.SE": "südöstlichen",
  "side.S": "südlichen",
  "side.SW": "südwestlichen",
  "side.W": "westlichen",
  "side.NW": "nordwestlichen",

  "compass.N": "Norden",
  "compass.NE": "Nordosten",
  "compass.E": "Osten",
  "compass.SE": "Südosten",
  "compass.S": "Süden",
  "compass.SW": "Südwesten",
  "compass.W": "Westen",
  "compass.NW": "Nordwesten",

  "material.wire": "Begrenzungsdraht",
  "material.reels": "Rollen zu {reel}",
  "material.pegs": "Nägel",
  "material.couplers": "Dichte Verbinder",
  "material.connectors": "Klemmen",
  "material.stations": "Stationen",
  "material.fixings": "Schrauben für die Stationen",
  "material.lead": "Zuleitung von der Station zur Steckdose",
  "material.outlets": "Außensteckdosen",
};

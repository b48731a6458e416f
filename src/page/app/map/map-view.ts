/** The map: the plan in the site grid, north up, in metres. */
import type Feature from "ol/Feature.js";
import type { FeatureLike } from "ol/Feature.js";
import Point from "ol/geom/Point.js";
import DoubleClickZoom from "ol/interaction/DoubleClickZoom.js";
import { defaults as defaultInteractions } from "ol/interaction/defaults.js";
import type BaseLayer from "ol/layer/Base.js";
import VectorLayer from "ol/layer/Vector.js";
import OlMap from "ol/Map.js";
import type { Pixel } from "ol/pixel.js";
import Projection from "ol/proj/Projection.js";
import VectorSource from "ol/source/Vector.js";
import View from "ol/View.js";
import { siteGridAt } from "../../../crs/site-grid.ts";
import type { LonLat, PointM } from "../../../model/geometry.ts";
import type { SiteGrid } from "../../../model/site.ts";
import type { DrawnModel, PageModel } from "../../model/page-model.ts";
import type { Words } from "../../words/words.ts";
import { featuresByLayer } from "./features.ts";
import { LAYER_NAMES, type LayerName } from "./layer-names.ts";
import type { Look } from "./look.ts";
import { nameFeatures, nameStyle } from "./names.ts";
import { MapStyles, type Subject, subjectOf } from "./styles.ts";
import { FINDING_OFF_PX } from "./symbols.ts";

/** Sources of the map's features; printing draws them again on layers of its own. */
export type Sources = ReadonlyMap<LayerName, VectorSource>;

/** Closest look: a CSS pixel is 2 mm. */
const RESOLUTION_MIN_M = 0.002;
/** And the farthest at least: another site may take the place of this one. */
const RESOLUTION_MAX_M = 20;

export class MapView {
  readonly ol: OlMap;
  /** What holds the map and has the keyboard. */
  readonly element: HTMLElement;
  readonly view: View;
  readonly projection: Projection;
  readonly sources: Sources;
  readonly #layers = new Map<LayerName, BaseLayer>();
  readonly #marked = new VectorSource();
  readonly #markedLayer: VectorLayer;
  #styles: MapStyles;
  #grid: SiteGrid;
  #extent: PageModel["extent"];
  #picture: (() => BaseLayer) | undefined;
  readonly #lookListeners = new Set<() => void>();
  readonly #subjects = new Map<string, Feature>();

  constructor(element: HTMLElement, model: DrawnModel, look: Look) {
    this.element = element;
    this.#styles = new MapStyles(look, devicePixelRatio);
    this.#grid = siteGridAt(model.grid.origin);
    this.#extent = model.extent;
    this.projection = new Projection({
      code: "site-grid",
      units: "m",
      metersPerUnit: 1,
      getPointResolution: (resolution) => resolution,
    });
    this.sources = new Map(LAYER_NAMES.map((name) => [name, new VectorSource()]));
    for (const [name, source] of this.sources) {
      const layer = new VectorLayer({
        source,
        declutter: name === "names",
        updateWhileInteracting: false,
        style: (feature, resolution) => styleOf(this.#styles, name, feature as Feature, resolution),
      });
      this.#layers.set(name, layer);
    }
    this.#markedLayer = new VectorLayer({
      source: this.#marked,
      style: (feature, resolution) => {
        const subject = subjectOf(feature as Feature);
        return subject ? this.#styles.halo(subject, resolution) : [];
      },
    });
    const middle: [number, number] = [
      (model.extent[0] + model.extent[2]) / 2,
      (model.extent[1] + model.extent[3]) / 2,
    ];
    this.view = new View({
      projection: this.projection,
      center: middle,
      resolution: 0.1,
      minResolution: RESOLUTION_MIN_M,
      maxResolution: Math.max(RESOLUTION_MAX_M, (4 * sizeOf(model.extent)) / 300),
      enableRotation: false,
      constrainResolution: false,
      smoothResolutionConstraint: false,
      multiWorld: true,
    });
    const order = [...this.#layers.values()];
    order.splice(order.length - 1, 0, this.#markedLayer);
    this.ol = new OlMap({
      target: element,
      view: this.view,
      layers: order,
      controls: [],
      interactions: defaultInteractions({ altShiftDragRotate: false, pinchRotate: false }),
      keyboardEventTarget: element,
    });
  }

  get look(): Look {
    return this.#styles.look;
  }

  get styles(): MapStyles {
    return this.#styles;
  }

  /** The site grid: from degrees and back. */
  get grid(): SiteGrid {
    return this.#grid;
  }

  /**
   * Lays a picture beneath everything.
   *
   * @param make gives a layer of it: one for this map, and one for each sheet that is printed
   */
  setPicture(make: () => BaseLayer): void {
    this.#picture = make;
    const layer = make();
    this.ol.getLayers().insertAt(0, layer);
    this.#layers.set("picture", layer);
  }

  /** Takes the picture away. */
  clearPicture(): void {
    const layer = this.#layers.get("picture");
    if (!this.#picture || !layer) return;
    this.ol.removeLayer(layer);
    this.#layers.delete("picture");
    this.#picture = undefined;
    this.setLook(this.look);
  }

  setLook(look: Look): void {
    this.#styles = this.stylesIn(look, devicePixelRatio);
    for (const layer of [...this.#layers.values(), this.#markedLayer]) layer.changed();
    for (const listener of this.#lookListeners) listener();
  }

  /** Calls when the map has another look. @returns a function that ends it */
  onLook(listener: () => void): () => void {
    this.#lookListeners.add(listener);
    return () => this.#lookListeners.delete(listener);
  }

  setModel(model: DrawnModel, words: Words): void {
    this.#grid = siteGridAt(model.grid.origin);
    this.#extent = model.extent;
    this.#subjects.clear();
    const byLayer = featuresByLayer(model);
    for (const [name, source] of this.sources) {
      if (name === "names") continue;
      const features = byLayer.get(name) ?? [];
      for (const feature of features) this.#subjects.set(String(feature.getId()), feature);
      source.clear(true);
      source.addFeatures(features);
    }
    this.setWords(model, words);
  }

  /** Names and numbers in the reader's words. */
  setWords(model: DrawnModel, words: Words): void {
    const names = this.sources.get("names")!;
    names.clear(true);
    names.addFeatures(nameFeatures(model, words));
  }

  setLayers(shown: Readonly<Record<LayerName, boolean>>): void {
    for (const [name, layer] of this.#layers) layer.setVisible(shown[name]);
  }

  /** Puts a mark round a shape, peg or finding. */
  mark(id: string | undefined): void {
    this.#marked.clear(true);
    const feature = id === undefined ? undefined : this.#subjects.get(id);
    if (feature) this.#marked.addFeature(feature);
    this.#markedLayer.changed();
  }

  /** What an id stands for; undefined for a finding without a place, too. */
  subject(id: string): Subject | undefined {
    const feature = this.#subjects.get(id);
    return feature && subjectOf(feature);
  }

  /**
   * Adds a layer, for what a tool or a panel draws.
   *
   * @param below under this layer; over all others where left out
   * @returns a function that takes it away
   */
  addLayer(layer: BaseLayer, below?: LayerName): () => void {
    const all = this.ol.getLayers();
    const at = below === undefined ? -1 : all.getArray().indexOf(this.#layers.get(below)!);
    if (at < 0) all.push(layer);
    else all.insertAt(at, layer);
    return () => void all.remove(layer);
  }

  /** The id of what lies at a place of the screen: the nearest point, else lines before areas, things before lawn. */
  idAt(pixel: Pixel, tolerancePx: number): string | undefined {
    return this.idsAt(pixel, tolerancePx)[0];
  }

  /** All that lies there, in that order. */
  idsAt(pixel: Pixel, tolerancePx: number): string[] {
    const found: { id: string; rank: number; distancePx: number }[] = [];
    this.ol.forEachFeatureAtPixel(
      pixel,
      (feature) => {
        const id = feature.getId();
        const subject = subjectOf(feature as Feature);
        if (id === undefined || !subject) return;
        const distancePx = this.#distancePx(feature as Feature, subject, pixel);
        found.push({ id: String(id), rank: rankOf(subject), distancePx });
      },
      { hitTolerance: tolerancePx, layerFilter: (layer) => layer !== this.#markedLayer },
    );
    found.sort((a, b) => a.rank - b.rank || a.distancePx - b.distancePx);
    return found.map(({ id }) => id);
  }

  /** From a place of the screen to where a point's sign stands; 0 for lines and areas. */
  #distancePx(feature: Feature, subject: Subject, [x, y]: Pixel): number {
    const geometry = feature.getGeometry();
    if (!(geometry instanceof Point)) return 0;
    const at = this.ol.getPixelFromCoordinate(geometry.getCoordinates());
    if (!at) return 0;
    const off = subject.of === "finding" ? FINDING_OFF_PX : 0;
    return Math.hypot(at[0]! + off - x!, at[1]! - off - y!);
  }

  /** Shows all of the plan. */
  showAll(animate = true): void {
    this.#fit([...this.#extent], animate);
  }

  /** Moves to a shape, peg or finding unless it is in sight and large enough. */
  show(id: string): void {
    const geometry = this.#subjects.get(id)?.getGeometry();
    if (!geometry) return;
    const box = geometry.getExtent() as [number, number, number, number];
    const size = this.ol.getSize() ?? [300, 300];
    const resolution = this.view.getResolution() ?? 1;
    const seen = this.view.calculateExtent(size);
    const [left, bottom, right, top] = shrunk(seen as [number, number, number, number], 0.1);
    const isIn = box[0] >= left && box[1] >= bottom && box[2] <= right && box[3] <= top;
    const isPoint = sizeOf(box) === 0;
    if (isIn && (!isPoint || resolution <= POINT_RESOLUTION_M)) return;
    if (isPoint) {
      const center: [number, number] = [box[0], box[1]];
      this.#animate({ center, resolution: Math.min(resolution, POINT_RESOLUTION_M) });
    } else {
      this.#fit(box, true);
    }
  }

  /** Shows a shape, peg or finding as near as it can be seen whole. */
  lookAt(id: string): void {
    const geometry = this.#subjects.get(id)?.getGeometry();
    if (geometry) this.#fit(geometry.getExtent(), true);
  }

  /** Moves the middle of the map to a place. */
  centreOn(at: PointM, resolutionM?: number): void {
    this.#animate({ center: [...at], ...(resolutionM && { resolution: resolutionM }) });
  }

  /** Zooms about the middle; more than 1 is nearer. */
  zoomBy(factor: number): void {
    const resolution = this.view.getResolution() ?? 1;
    this.#animate({
      resolution: this.view.getConstrainedResolution(resolution / factor) ?? resolution,
    });
  }

  /** Where the middle of the map lies, metres. */
  middle(): PointM {
    return (this.view.getCenter() ?? [0, 0]) as [number, number];
  }

  toLonLat(at: PointM): LonLat {
    return this.#grid.inverse(at);
  }

  fromLonLat(lonLat: LonLat): PointM {
    return this.#grid.forward(lonLat);
  }

  /** Styles in another look; areas are tinted less where a picture lies beneath. */
  stylesIn(look: Look, ratio: number): MapStyles {
    const tint = this.#picture ? look.tint * TINT_OVER_PICTURE : look.tint;
    return new MapStyles({ ...look, tint }, ratio);
  }

  /** How features of a layer are drawn in other styles, such as those of paper. */
  styleWith(styles: MapStyles, name: LayerName) {
    return (feature: FeatureLike, resolution: number) =>
      name === "names"
        ? nameStyle(feature as Feature, resolution * PAPER_CLOSER, styles)
        : styleOf(styles, name, feature as Feature, resolution);
  }

  /** Whether two quick clicks zoom; not while they may set two points. */
  setDoubleClickZoom(isOn: boolean): void {
    for (const one of this.ol.getInteractions().getArray()) {
      if (one instanceof DoubleClickZoom) one.setActive(isOn);
    }
  }

  /** The picture beneath, for a map of its own; undefined for what is no picture. */
  pictureLayer(name: LayerName): BaseLayer | undefined {
    return name === "picture" ? this.#picture?.() : undefined;
  }

  /** Whether lawn, things or wire lie in an extent. */
  hasAnything(extent: readonly [number, number, number, number]): boolean {
    return (["lawn", "things", "wire"] as const).some((name) => {
      let isThere = false;
      this.sources.get(name)?.forEachFeatureIntersectingExtent([...extent], () => {
        isThere = true;
        return true;
      });
      return isThere;
    });
  }

  #fit(extent: number[], animate: boolean): void {
    this.view.fit(extent, {
      padding: [56, 40, 56, 40],
      minResolution: POINT_RESOLUTION_M / 2,
      duration: animate && !isStill() ? 250 : 0,
    });
  }

  #animate(to: { center?: [number, number] | number[]; resolution?: number }): void {
    this.view.cancelAnimations();
    if (!isStill()) return void this.view.animate({ ...to, duration: 250 });
    if (to.center) this.view.setCenter(to.center);
    if (to.resolution !== undefined) this.view.setResolution(to.resolution);
  }
}

function styleOf(styles: MapStyles, name: LayerName, feature: Feature, resolution: number) {
  if (name === "names") return nameStyle(feature, resolution, styles);
  const subject = subjectOf(feature);
  if (!subject) return [];
  const own = styles.of(subject, resolution);
  if (subject.of !== "shape" || subject.shape.kind !== "boundary-wire") return own;
  const { place } = subject.shape;
  return place.form === "line" ? [...own, ...styles.arrows(place.line, resolution)] : own;
}

/** A point is shown at least this close: metres of a CSS pixel. */
const POINT_RESOLUTION_M = 0.025;

/** On paper, which is finer than a screen, as many numbers are tried as on a screen this much closer. */
const PAPER_CLOSER = 0.55;

/** Share of their tint that areas keep over a picture. */
const TINT_OVER_PICTURE = 0.4;

const isStill = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

const sizeOf = ([west, south, east, north]: readonly [number, number, number, number]) =>
  Math.max(east - west, north - south);

function shrunk(
  [west, south, east, north]: readonly [number, number, number, number],
  share: number,
): [number, number, number, number] {
  const [e, n] = [(east - west) * share, (north - south) * share];
  return [west + e, south + n, east - e, north - n];
}

function rankOf(subject: Subject): number {
  if (subject.of !== "shape" || subject.shape.place.form === "point") return 0;
  const { kind, place } = subject.shape;
  if (place.form === "line") return kind === "passage" ? 3 : 4;
  if (kind === "thing" || kind === "exclusion-loop") return kind === "thing" ? 5 : 6;
  return kind === "lawn" ? 9 : 8;
}

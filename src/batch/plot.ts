import { featureOf, type Packed, packedCopyOf } from "../import/position-store.ts";
import type { RawFeature, RawLayer } from "../model/features.ts";

/** One of many sites in the same inputs. */
export interface Plot {
  /** 1-based, in input order. */
  readonly number: number;
  readonly name: string;
  /** Its features in source coordinates; layers of which it has none are there, empty. */
  readonly layers: readonly RawLayer[];
}

/** All plots of some inputs, each made when it is asked for. */
export interface Plots {
  readonly count: number;
  /** The plot of a 1-based number. */
  plot(number: number): Plot;
}

/** A plot as names of its features: places in the list of all features of all layers. */
export interface Membership {
  readonly name: string;
  readonly features: readonly number[];
}

/** Plots from lists of features, which need not be in order. */
export function plotsOf(layers: readonly RawLayer[], members: readonly Membership[]): Plots {
  return {
    count: members.length,
    plot: (number) => {
      const { name, features } = members[number - 1]!;
      return { number, name, layers: layersWith(layers, features) };
    },
  };
}

function layersWith(layers: readonly RawLayer[], features: readonly number[]): RawLayer[] {
  const wanted = [...features].sort((a, b) => a - b);
  let [next, start] = [0, 0];
  return layers.map((layer) => {
    const end = start + layer.features.length;
    const own: RawFeature[] = [];
    while (next < wanted.length && wanted[next]! < end) {
      own.push(layer.features[wanted[next++]! - start]!);
    }
    start = end;
    return { ...layer, features: own, featuresInFile: own.length };
  });
}

/** A plot as it goes from one thread to another: positions of its own, plain values. */
export interface PostedPlot extends Omit<Plot, "layers"> {
  readonly layers: readonly (Omit<RawLayer, "features"> & {
    readonly features: readonly (RawFeature | { readonly packed: Packed })[];
  })[];
}

export function postedPlot(plot: Plot): PostedPlot {
  const posted = (feature: RawFeature) => {
    const packed = packedCopyOf(feature);
    return packed === undefined ? feature : { packed };
  };
  const layers = plot.layers.map((layer) => ({ ...layer, features: layer.features.map(posted) }));
  return { ...plot, layers };
}

export function plotOfPosted({ layers, ...plot }: PostedPlot): Plot {
  const taken = (one: RawFeature | { readonly packed: Packed }) =>
    "packed" in one ? featureOf(one.packed) : one;
  return {
    ...plot,
    layers: layers.map((layer) => ({ ...layer, features: layer.features.map(taken) })),
  };
}

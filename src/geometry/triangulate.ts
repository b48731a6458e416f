/**
 * Constrained Delaunay triangulation of areas, boundary sampled, as a graph of triangles.
 *
 * Delaunator triangulates, Constrainautor forces the boundary edges, and a flood from the hull
 * (parity changes at each boundary edge) tells inside from outside. n log n.
 */
import Constrainautor from "@kninnug/constrainautor";
import Delaunator from "delaunator";
import type { LineM } from "../model/geometry.ts";
import { PointNumbers } from "./point-numbers.ts";

/** Triangles of the inside of areas. Half-edge h belongs to triangle ⌊h/3⌋. */
export interface Triangulation {
  /** Point coordinates, e0, n0, e1, n1, … */
  readonly coords: Float64Array;
  /** Three point numbers a triangle; half-edge h runs from `triangles[h]` to the next of its triangle. */
  readonly triangles: Uint32Array;
  /** The half-edge on the other side, or -1 at the hull. */
  readonly halfedges: Int32Array;
  /** 1 for triangles inside the areas. */
  readonly inside: Uint8Array;
  /** 1 for half-edges that lie on the areas' boundary. */
  readonly boundary: Uint8Array;
  /** The chain's label for half-edges on the boundary, 0 elsewhere. */
  readonly edgeLabel: Float64Array;
  /** For each point, the largest label of the chains it lies on. */
  readonly pointLabel: Float64Array;
  /** Boundary edges that could not be forced (touching rings): the inside may leak there. */
  readonly unforced: number;
}

export function nextHalfedge(h: number): number {
  return h % 3 === 2 ? h - 2 : h + 1;
}

/** A stretch of boundary with a number of the caller's that its edges and points carry. */
export interface BoundaryChain {
  /** Open line, or a closed one with its first point repeated at the end. */
  readonly line: LineM;
  readonly label: number;
}

/**
 * Triangulates what a set of boundary chains encloses (even-odd).
 *
 * @param chains together closed: every end is the start of another, or of itself
 * @param stepM longest boundary edge after sampling, metres
 */
export function triangulate(chains: readonly BoundaryChain[], stepM: number): Triangulation {
  const coords: number[] = [];
  const labels: number[] = [];
  const numbers = new PointNumbers();
  const edges: BoundaryEdge[] = [];
  const pointAt = (e: number, n: number, label: number): number => {
    const number = numbers.of(e, n);
    if (number < labels.length) {
      if (label > labels[number]!) labels[number] = label;
      return number;
    }
    coords.push(e, n);
    labels.push(label);
    return number;
  };
  for (const { line, label } of chains) {
    for (let i = 0; i + 3 < line.length; i += 2) {
      const ae = line[i]!;
      const an = line[i + 1]!;
      const be = line[i + 2]!;
      const bn = line[i + 3]!;
      const steps = Math.max(1, Math.ceil(Math.hypot(be - ae, bn - an) / stepM));
      let from = pointAt(ae, an, label);
      for (let k = 1; k <= steps; k++) {
        const share = k / steps;
        const to =
          k === steps
            ? pointAt(be, bn, label)
            : pointAt(ae + (be - ae) * share, an + (bn - an) * share, label);
        if (from !== to) edges.push([from, to, label]);
        from = to;
      }
    }
  }
  // A frame well outside: the boundary is no hull then, on which all but straight rows of points
  // leave gaps that no edge can be forced through.
  for (const [e, n] of frameAround(coords)) {
    coords.push(e, n);
    labels.push(0);
  }
  return build(Float64Array.from(coords), edges, Float64Array.from(labels));
}

/** Corners of a box round all points, as far out as the points reach apart. */
function frameAround(coords: readonly number[]): [number, number][] {
  let [minE, minN, maxE, maxN] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < coords.length; i += 2) {
    minE = Math.min(minE, coords[i]!);
    maxE = Math.max(maxE, coords[i]!);
    minN = Math.min(minN, coords[i + 1]!);
    maxN = Math.max(maxN, coords[i + 1]!);
  }
  if (coords.length === 0) return [];
  const out = 1 + Math.max(maxE - minE, maxN - minN);
  return [
    [minE - out, minN - out],
    [maxE + out, minN - out],
    [maxE + out, maxN + out],
    [minE - out, maxN + out],
  ];
}

type BoundaryEdge = readonly [from: number, to: number, label: number];

function build(
  coords: Float64Array,
  edges: readonly BoundaryEdge[],
  pointLabel: Float64Array,
): Triangulation {
  const delaunay = new Delaunator(coords);
  const constrain = new Constrainautor(delaunay);
  let unforced = 0;
  const labelOf = new Map<number, number>();
  const count = coords.length / 2;
  const keyOf = (a: number, b: number): number => Math.min(a, b) * count + Math.max(a, b);
  for (const [a, b, label] of edges) {
    labelOf.set(keyOf(a, b), label);
    try {
      constrain.constrainOne(a, b);
    } catch {
      unforced++;
    }
  }
  const { triangles, halfedges } = delaunay;
  const boundary = new Uint8Array(triangles.length);
  const edgeLabel = new Float64Array(triangles.length);
  for (let h = 0; h < triangles.length; h++) {
    const label = labelOf.get(keyOf(triangles[h]!, triangles[nextHalfedge(h)]!));
    if (label === undefined) continue;
    boundary[h] = 1;
    edgeLabel[h] = label;
  }
  return {
    coords,
    triangles,
    halfedges,
    inside: floodInside(triangles.length / 3, halfedges, boundary),
    boundary,
    edgeLabel,
    pointLabel,
    unforced,
  };
}

/** Parity flood from the hull: crossing a boundary edge changes side. */
function floodInside(count: number, halfedges: Int32Array, boundary: Uint8Array): Uint8Array {
  const side = new Int8Array(count).fill(-1);
  const queue: number[] = [];
  for (let h = 0; h < halfedges.length; h++) {
    const t = Math.floor(h / 3);
    if (halfedges[h] === -1 && side[t] === -1) {
      side[t] = boundary[h] ? 1 : 0;
      queue.push(t);
    }
  }
  for (let q = 0; q < queue.length; q++) {
    const t = queue[q]!;
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const twin = halfedges[h]!;
      if (twin === -1) continue;
      const u = Math.floor(twin / 3);
      if (side[u] !== -1) continue;
      side[u] = boundary[h] ? 1 - side[t]! : side[t]!;
      queue.push(u);
    }
  }
  return Uint8Array.from(side, (s) => (s === 1 ? 1 : 0));
}

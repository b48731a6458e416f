/**
 * The narrow parts of the ground as chains of portals between rooms.
 *
 * A portal is an unconstrained triangle side: crossing it is passing between its two end points.
 */
import { nextHalfedge, type Triangulation } from "../geometry/triangulate.ts";
import type { PointM } from "../model/geometry.ts";

/** Portals crossed one after the other. Ends are rooms, or junctions shared with other chains. */
export interface NarrowChain {
  /** Half-edges, each seen from the triangle being left. */
  readonly portals: readonly number[];
  /** Junction triangle at the start, or -1 for a room. */
  readonly start: number;
  readonly end: number;
}

export interface NarrowGraph {
  readonly mesh: Triangulation;
  readonly chains: readonly NarrowChain[];
}

/** Middle of the largest empty disc about a triangle that is a room. */
export function roomCentre(mesh: Triangulation, t: number): PointM {
  const { e, n } = circumcircles(mesh, t, t + 1);
  return [e[0]!, n[0]!];
}

/** Circumcircles of triangles, all where no others are asked for: centre and radius. */
function circumcircles(
  mesh: Triangulation,
  first = 0,
  end = mesh.triangles.length / 3,
): { e: Float64Array; n: Float64Array; r: Float64Array } {
  const e = new Float64Array(end - first);
  const n = new Float64Array(end - first);
  const r = new Float64Array(end - first);
  const { coords, triangles } = mesh;
  for (let t = first; t < end; t++) {
    const a = 2 * triangles[3 * t]!;
    const b = 2 * triangles[3 * t + 1]!;
    const c = 2 * triangles[3 * t + 2]!;
    const ae = coords[a]!;
    const an = coords[a + 1]!;
    const de = coords[b]! - ae;
    const dn = coords[b + 1]! - an;
    const ee = coords[c]! - ae;
    const en = coords[c + 1]! - an;
    const bl = de * de + dn * dn;
    const cl = ee * ee + en * en;
    const d = 0.5 / (de * en - dn * ee);
    const x = (en * bl - dn * cl) * d;
    const y = (de * cl - ee * bl) * d;
    e[t - first] = ae + x;
    n[t - first] = an + y;
    r[t - first] = Math.hypot(x, y);
  }
  return { e, n, r };
}

/** +1 when the point lies on the triangle's own side of half-edge h, -1 beyond it. */
function sideOf(mesh: Triangulation, h: number, e: number, n: number): number {
  const a = 2 * mesh.triangles[h]!;
  const b = 2 * mesh.triangles[nextHalfedge(h)]!;
  const c = 2 * mesh.triangles[nextHalfedge(nextHalfedge(h))]!;
  const { coords } = mesh;
  const ae = coords[a]!;
  const an = coords[a + 1]!;
  const de = coords[b]! - ae;
  const dn = coords[b + 1]! - an;
  const own = de * (coords[c + 1]! - an) - dn * (coords[c]! - ae);
  const at = de * (n - an) - dn * (e - ae);
  return Math.sign(own) * Math.sign(at);
}

/**
 * @param roomWidthM width between the wires from which a place counts as room
 */
export function narrowChains(mesh: Triangulation, roomWidthM: number): NarrowGraph {
  const count = mesh.triangles.length / 3;
  const circles = circumcircles(mesh);
  const { triangles, halfedges, boundary, inside, pointLabel, coords } = mesh;

  const isPortal = (h: number): boolean =>
    !boundary[h] && halfedges[h] !== -1 && inside[Math.floor(halfedges[h]! / 3)] === 1;
  /** Whether wires leave a room about a circle's centre, as far as the corners of a triangle say. */
  const leavesRoom = (t: number, corners: number): boolean => {
    for (let h = 3 * corners; h < 3 * corners + 3; h++) {
      const p = triangles[h]!;
      const apartM = Math.hypot(coords[2 * p]! - circles.e[t]!, coords[2 * p + 1]! - circles.n[t]!);
      if (2 * (apartM - pointLabel[p]!) < roomWidthM) return false;
    }
    return true;
  };

  /**
   * Triangles that a triangle's circle makes rooms: those on the way from it to the circle's centre,
   * where that crosses no boundary and no corner on the way comes too near the centre with its set-in.
   * (At a blunt corner the centre lies triangles away: these know of the set-ins across the ground, and
   * between the corner and the centre nothing is narrow.) None where the circle is no room.
   */
  const roomsOf = (t: number): number[] => {
    if (2 * circles.r[t]! < roomWidthM || !leavesRoom(t, t)) return [];
    const way = [t];
    let at = t;
    let cameFrom = -1;
    for (let step = 0; step < 32; step++) {
      let beyond = -1;
      for (let h = 3 * at; h < 3 * at + 3; h++) {
        if (h !== cameFrom && sideOf(mesh, h, circles.e[t]!, circles.n[t]!) < 0) {
          beyond = h;
          break;
        }
      }
      if (beyond === -1) return way;
      if (boundary[beyond]) return [];
      cameFrom = halfedges[beyond]!;
      if (cameFrom === -1) return [];
      at = Math.floor(cameFrom / 3);
      if (!leavesRoom(t, at)) return [];
      way.push(at);
    }
    return way;
  };

  const room = new Uint8Array(count);
  for (let t = 0; t < count; t++) if (inside[t]) for (const u of roomsOf(t)) room[u] = 1;

  /** Width between the wires in passing through a portal between two rooms. */
  const portalWidth = (h: number): number => {
    const t = Math.floor(h / 3);
    const u = Math.floor(halfedges[h]! / 3);
    const p = triangles[h]!;
    const q = triangles[nextHalfedge(h)]!;
    const apart =
      sideOf(mesh, h, circles.e[t]!, circles.n[t]!) > 0 &&
      sideOf(mesh, halfedges[h]!, circles.e[u]!, circles.n[u]!) > 0;
    const length = Math.hypot(
      coords[2 * p]! - coords[2 * q]!,
      coords[2 * p + 1]! - coords[2 * q + 1]!,
    );
    const clear = apart ? length : 2 * Math.min(circles.r[t]!, circles.r[u]!);
    return clear - pointLabel[p]! - pointLabel[q]!;
  };

  const alive = pruneBlindAlleys(mesh, room, isPortal);

  const chains: NarrowChain[] = [];
  const passable = (h: number): boolean => {
    if (!isPortal(h)) return false;
    const u = Math.floor(halfedges[h]! / 3);
    return room[u] === 1 || alive[u] === 1;
  };
  const degree = (t: number): number => {
    let d = 0;
    for (let h = 3 * t; h < 3 * t + 3; h++) if (passable(h)) d++;
    return d;
  };
  const junction = new Uint8Array(count);
  for (let t = 0; t < count; t++) if (alive[t] && degree(t) === 3) junction[t] = 1;

  const used = new Uint8Array(triangles.length);
  const walk = (start: number, h0: number): void => {
    const portals: number[] = [];
    let h = h0;
    for (;;) {
      portals.push(h);
      used[h] = 1;
      const twin = halfedges[h]!;
      used[twin] = 1;
      const u = Math.floor(twin / 3);
      if (room[u] || junction[u]) {
        chains.push({ portals, start, end: junction[u] ? u : -1 });
        return;
      }
      let onward = -1;
      for (let g = 3 * u; g < 3 * u + 3; g++) if (g !== twin && passable(g)) onward = g;
      if (onward === -1 || used[onward]) return;
      h = onward;
    }
  };
  for (let t = 0; t < count; t++) {
    if (!inside[t] || !(room[t] || junction[t])) continue;
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      if (used[h] || !passable(h)) continue;
      const u = Math.floor(halfedges[h]! / 3);
      if (room[t] && room[u] && portalWidth(h) >= roomWidthM) continue;
      walk(junction[t] ? t : -1, h);
    }
  }
  return { mesh, chains };
}

/** Narrow triangles that lead from room to room (or round something); blind alleys are taken out. */
function pruneBlindAlleys(
  mesh: Triangulation,
  room: Uint8Array,
  isPortal: (h: number) => boolean,
): Uint8Array {
  const count = room.length;
  const alive = new Uint8Array(count);
  const ways = new Int8Array(count);
  const queue: number[] = [];
  for (let t = 0; t < count; t++) {
    if (!mesh.inside[t] || room[t]) continue;
    alive[t] = 1;
    for (let h = 3 * t; h < 3 * t + 3; h++) if (isPortal(h)) ways[t] = ways[t]! + 1;
    if (ways[t]! <= 1) queue.push(t);
  }
  while (queue.length > 0) {
    const t = queue.pop()!;
    if (!alive[t]) continue;
    alive[t] = 0;
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      if (!isPortal(h)) continue;
      const u = Math.floor(mesh.halfedges[h]! / 3);
      if (!alive[u]) continue;
      ways[u] = ways[u]! - 1;
      if (ways[u]! <= 1) queue.push(u);
    }
  }
  return alive;
}

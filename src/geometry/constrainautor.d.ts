/** The package's own types are TypeScript sources that a strict NodeNext build does not read. */
declare module "@kninnug/constrainautor" {
  export default class Constrainautor {
    constructor(delaunay: {
      coords: ArrayLike<number>;
      triangles: Uint32Array;
      halfedges: Int32Array;
    });
    constrainOne(a: number, b: number): number;
    delaunify(deep?: boolean): this;
    isConstrained(halfedge: number): boolean;
  }
}

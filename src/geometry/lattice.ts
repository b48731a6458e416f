/** Most nodes of a lattice; larger boxes get a wider step. */
const NODES_MAX = 2 ** 22;

export interface LatticeBox {
  readonly minE: number;
  readonly minN: number;
  readonly maxE: number;
  readonly maxN: number;
}

/** Where the nodes of a square lattice lie: from the north-west one, row by row. */
export interface LatticeFrame {
  readonly westM: number;
  readonly northM: number;
  readonly stepM: number;
  readonly columns: number;
  readonly rows: number;
}

/**
 * A lattice over a box with a node to spare all round, its nodes at whole multiples of the step.
 *
 * @param wantedM the step, metres; a box too large for it gets the least one that it can have
 */
export function latticeOver(box: LatticeBox, wantedM: number): LatticeFrame {
  const leastM = Math.sqrt(((box.maxE - box.minE) * (box.maxN - box.minN)) / NODES_MAX) * 1.01;
  const stepM = Math.max(wantedM, leastM);
  const west = Math.floor(box.minE / stepM) - 1;
  const north = Math.ceil(box.maxN / stepM) + 1;
  return {
    westM: west * stepM,
    northM: north * stepM,
    stepM,
    columns: Math.ceil(box.maxE / stepM) + 2 - west,
    rows: north - Math.floor(box.minN / stepM) + 2,
  };
}

// Rates of the coverage simulation and of the signal's field on this machine, beside a reference
// measured in the same run: bare square roots. `npm run bench:physics`.
import { loadSource } from "../../scripts/load-source.mjs";

const { RayRoom } = await loadSource("src/physics/coverage/ray-room.ts");
const { randomDrives } = await loadSource("src/physics/coverage/drive.ts");
const { LawnCells } = await loadSource("src/physics/coverage/lawn-cells.ts");
const { seeded } = await loadSource("src/physics/coverage/seeded.ts");
const { upwardFieldUtPerA } = await loadSource("src/physics/signal/field.ts");

const seconds = (work) => {
  const before = process.cpuUsage();
  const amount = work();
  const { user } = process.cpuUsage(before);
  return amount / (user / 1e6);
};

function outline(count, radiusM) {
  const ring = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const angle = (2 * Math.PI * i) / count;
    const r = radiusM * (1 + 0.1 * Math.sin(5 * angle));
    ring[2 * i] = r * Math.cos(angle);
    ring[2 * i + 1] = r * Math.sin(angle);
  }
  return ring;
}

let sink = 0;
const roots = () => {
  for (let i = 0; i < 3e7; i++) sink += Math.sqrt(i);
  return 3e7;
};
const drives = (vertices) => () => {
  const area = { shell: outline(vertices, 30), holes: [] };
  const cells = new LawnCells([area], 0.11);
  let count = 0;
  randomDrives(new RayRoom([area]), [0, 0.1], seeded(1), (from, to) => {
    cells.mow(count++, from, to, 0.22);
    return count < 40_000;
  });
  return count;
};
const field = (pieces) => () => {
  const ring = outline(pieces, 30);
  const path = new Float64Array(4 * pieces);
  for (let i = 0; i < pieces; i++) {
    const j = (i + 1) % pieces;
    path.set([ring[2 * i], ring[2 * i + 1], ring[2 * j], ring[2 * j + 1]], 4 * i);
  }
  const points = Math.round(4e6 / pieces);
  for (let i = 0; i < points; i++)
    sink += upwardFieldUtPerA(path, 20 * Math.sin(i), 20 * Math.cos(i));
  return points * pieces;
};

const reference = seconds(roots);
const row = (name, unit, work) => {
  seconds(work);
  const rates = [1, 2, 3].map(() => seconds(work)).sort((a, b) => a - b);
  console.log(
    `${name.padEnd(44)} ${rates[1].toExponential(2)} ${unit}/s (${rates[0].toExponential(2)} to ${rates[2].toExponential(2)}); ${(reference / rates[1]).toFixed(1)} square roots each`,
  );
};
console.log(`reference: ${reference.toExponential(2)} square roots/s`);
row("drives on a lawn of 100 vertices, mown", "drives", drives(100));
row("drives on a lawn of 5,000 vertices, mown", "drives", drives(5000));
row("field, wire of 200 pieces", "pieces", field(200));
row("field, wire of 20,000 pieces", "pieces", field(20_000));
if (sink === 0) console.log();

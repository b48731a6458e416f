/** An invented school ground: main building, gym, pitch, pond, beds, trees, fences, flush paths. */
import type { Xy } from "./plane.ts";
import { type Drawn, disc, Pen, rectangle, SETIN_M } from "./sites.ts";

export function schoolGround(): Drawn {
  const pen = new Pen({ origin: [-31.2, 44.6], turnDeg: 12 });
  pen.lawn(rectangle(128, 84), { name: "School lawn" });
  const main: Xy[] = [
    [14, 50],
    [62, 50],
    [62, 62],
    [30, 62],
    [30, 76],
    [14, 76],
  ];
  pen.thing(main, { role: "building", name: "Main building" }, "firm", SETIN_M.wall);
  pen.thing(rectangle(24, 16, [92, 60]), { role: "building", name: "Gym" }, "firm", SETIN_M.wall);
  const yard = rectangle(48, 10, [14, 40]);
  pen.thing(yard, { role: "paving", name: "Yard", edge: "flush" }, "flush", SETIN_M.flush);
  const path = rectangle(1.6, 40, [40, 0]);
  pen.thing(path, { role: "paving", name: "Long path", edge: "flush" }, "flush", SETIN_M.flush);
  pen.thing(disc([112, 18], 7, 40), { role: "water", name: "Pond" }, "loop", SETIN_M.water);
  pen.thing(rectangle(9, 3, [100, 44]), { role: "gravel", name: "Long jump" });
  pen.bed(rectangle(12, 2.5, [70, 53]), "Rose bed");
  pen.bed(disc([20, 20], 2.2, 24), "Herb bed");
  pen.bed(disc([76, 30], 1.6, 20), "Willow hut");
  for (let i = 0; i < 6; i++) {
    const at: Xy = [52 + 11 * i, 8];
    pen.point(at, { role: "tree", diameter_m: 0.4, name: `Lime ${i + 1}` });
    pen.tell({
      name: `Lime ${i + 1}`,
      contact: "firm",
      setinM: 0.3,
      polygons: [[pen.ring(disc(at, 0.2, 180))]],
    });
  }
  pen.point([84, 70], { role: "tree", diameter_m: 0.06, soil_radius_m: 0.6, name: "Young oak" });
  pen.edge(
    [
      [0, 0],
      [128, 0],
      [128, 84],
    ],
    "fence",
  );
  pen.edge(
    [
      [128, 84],
      [0, 84],
    ],
    "hedge",
  );
  pen.point([62, 56], { role: "outlet", name: "Outlet by the kitchen" });
  return pen.drawn;
}

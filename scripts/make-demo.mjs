// Draws the invented house garden of fixtures/demo in metres and writes it in every format.
// Needs GDAL's ogr2ogr for the shapefiles (UTM zone 26 N: the garden lies in the open Atlantic).
import { execFileSync } from "node:child_process";
import { mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { zipSync } from "fflate";
import proj4 from "proj4";

const DIR = "fixtures/demo";
const ORIGIN = [-28.5, 47.25];
const grid = proj4(
  `+proj=tmerc +lat_0=${ORIGIN[1]} +lon_0=${ORIGIN[0]} +k=1 +ellps=WGS84 +units=m`,
);
const degrees = ([east, north]) => grid.inverse([east, north]).map((value) => +value.toFixed(10));

const ellipse = (east, north, a, b, steps, turnDeg = 0) => {
  const turn = (turnDeg * Math.PI) / 180;
  const ring = Array.from({ length: steps }, (_, i) => {
    const t = (2 * Math.PI * i) / steps;
    const [x, y] = [a * Math.cos(t), b * Math.sin(t)];
    return [
      east + x * Math.cos(turn) - y * Math.sin(turn),
      north + x * Math.sin(turn) + y * Math.cos(turn),
    ];
  });
  return [...ring, ring[0]];
};
const box = (e0, n0, e1, n1) => [
  [e0, n0],
  [e1, n0],
  [e1, n1],
  [e0, n1],
  [e0, n0],
];

// The northern edge sways, as a hedge does.
const north = Array.from({ length: 13 }, (_, i) => {
  const share = i / 12;
  return [20.4 - 19.2 * share, 40.6 + 0.45 * Math.sin(3 * Math.PI * share)];
});

const lawn = [
  [5.2, 1.5],
  [20.4, 1.5],
  ...north,
  [1.2, 26.2],
  [6, 25.5],
  [6, 28.5],
  [15, 28.5],
  [15, 25.5],
  [19, 25.5],
  [19, 14.5],
  [5.2, 14.5],
  [5.2, 1.5],
];

const polygon = (ring, properties) => ({ type: "Polygon", at: [ring], properties });
const line = (points, properties) => ({ type: "LineString", at: points, properties });
const point = (at, properties) => ({ type: "Point", at, properties });

const kidney = Array.from({ length: 37 }, (_, i) => {
  const t = (2 * Math.PI * i) / 36;
  const r = 1.5 + 0.45 * Math.cos(2 * t) - 0.3 * Math.sin(t);
  return [6.2 + 1.25 * r * Math.cos(t), 33.6 + 0.85 * r * Math.sin(t)];
});
kidney[36] = kidney[0];

const garden = [
  polygon(lawn, { role: "lawn", name: "Lawn" }),
  polygon(box(5, 15, 19, 25), { role: "building", name: "House", height_m: 7.5 }),
  polygon(box(1.2, 37.2, 3.6, 39.8), { role: "building", name: "Shed", height_m: 2.4 }),
  polygon(box(6, 25, 15, 28.5), { role: "paving", name: "Terrace", edge: "flush" }),
  polygon(kidney, { role: "bed", name: "Kidney bed" }),
  polygon(ellipse(13.4, 32.2, 1.1, 1.1, 24), { role: "bed", name: "Rose bed" }),
  polygon(ellipse(16.6, 5.2, 1.6, 0.9, 28, 20), { role: "bed", name: "Herb bed" }),
  polygon(ellipse(14.2, 36.6, 2.0, 1.3, 36, -15), { role: "water", name: "Pond" }),
  line(
    [
      [12.5, 1.2],
      [12.5, 14.8],
    ],
    { role: "paving", name: "Front path", edge: "flush", width: 1.2 },
  ),
  line(
    [
      [20.4, 1.5],
      [20.4, north[0][1]],
    ],
    { role: "edge", name: "Fence", edge: "fence" },
  ),
  line(north, { role: "edge", name: "Hedge", edge: "hedge" }),
  point([8.4, 6.2], { role: "tree", name: "Old lime", diameter_m: 0.62 }),
  point([9.4, 37.4], { role: "tree", name: "Old apple", diameter_m: 0.4 }),
  point([3.9, 29.9], { role: "tree", name: "Young pear", diameter_m: 0.05, soil_radius_m: 0.4 }),
  point([16, 25.2], { role: "outlet", name: "Outdoor socket" }),
];
// Round two sides of the herb bed: the run to the bed must find another way.
const play = polygon(
  [
    [14.6, 2.3],
    [19.8, 2.3],
    [19.8, 7.6],
    [18.6, 7.6],
    [18.6, 3.7],
    [14.6, 3.7],
    [14.6, 2.3],
  ],
  { wire: "no", name: "Play lawn" },
);
const station = point([20.1, 31], { role: "station", name: "Station" });

const move = (at) => (Array.isArray(at[0]) ? at.map(move) : degrees(at));
const feature = ({ type, at, properties }) => ({
  type: "Feature",
  properties,
  geometry: { type, coordinates: move(at) },
});
const geojson = (things) =>
  `{"type":"FeatureCollection","features":[\n${things.map((thing) => JSON.stringify(feature(thing))).join(",\n")}\n]}\n`;

const FOLDERS = { Polygon: "areas", LineString: "lines", Point: "points" };

function kml(things) {
  const text = (positions) => positions.map((at) => degrees(at).join(",")).join(" ");
  const shapes = {
    Polygon: (at) =>
      `<Polygon><outerBoundaryIs><LinearRing><coordinates>${text(at[0])}</coordinates></LinearRing></outerBoundaryIs></Polygon>`,
    LineString: (at) => `<LineString><coordinates>${text(at)}</coordinates></LineString>`,
    Point: (at) => `<Point><coordinates>${text([at])}</coordinates></Point>`,
  };
  const data = (properties) =>
    Object.entries(properties)
      .filter(([key]) => key !== "name" && key !== "role")
      .map(([key, value]) => `<Data name="${key}"><value>${value}</value></Data>`)
      .join("");
  const roles = [...new Set(things.map((thing) => thing.properties.role))];
  const folder = (role) => {
    const marks = things
      .filter((thing) => thing.properties.role === role)
      .map(
        ({ type, at, properties }) =>
          `<Placemark><name>${properties.name}</name><ExtendedData>${data(properties)}</ExtendedData>${shapes[type](at)}</Placemark>`,
      );
    return `<Folder><name>${role}</name>\n${marks.join("\n")}\n</Folder>`;
  };
  return `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="http://www.opengis.net/kml/2.2"><Document><name>house-garden</name>
${roles.map(folder).join("\n")}
</Document></kml>
`;
}

async function shapefiles(things) {
  const dir = `${DIR}/shapefile`;
  await rm(dir, { recursive: true, force: true });
  await mkdir(dir, { recursive: true });
  for (const [type, name] of Object.entries(FOLDERS)) {
    const source = `${dir}/${name}.geojson`;
    await writeFile(source, geojson(things.filter((thing) => thing.type === type)));
    const target = `${dir}/${name}.shp`;
    const options = ["-t_srs", "EPSG:32626", "-lco", "ENCODING=UTF-8", "-nln", name];
    execFileSync("ogr2ogr", ["-f", "ESRI Shapefile", target, source, ...options]);
    await rm(source);
  }
  const files = (await readdir(dir)).sort();
  const entries = {};
  for (const file of files) entries[file] = await readFile(`${dir}/${file}`);
  const archive = zipSync(entries, { level: 9, mtime: "2000-01-01T00:00:00Z" });
  await writeFile(`${DIR}/house-garden-shapefile.zip`, archive);
}

/** Heights every metre: a gentle fall to the north, and a bank down to the west in the back lawn. */
async function heights() {
  const wkt =
    'PROJCS["WGS_1984_UTM_Zone_26N",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-27.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]';
  const utm = proj4("+proj=utm +zone=26 +datum=WGS84 +units=m");
  const [x0, y0] = utm.forward(ORIGIN).map((value) => Math.round(value) - 10);
  const [columns, rows] = [42, 64];
  const smooth = (t) => t * t * (3 - 2 * t);
  const bank = (e, n) =>
    -1.4 *
    smooth(Math.min(1, Math.max(0, (4 - e) / 4))) *
    smooth(Math.min(1, Math.max(0, (n - 26) / 4)));
  const lines = Array.from({ length: rows }, (_, r) =>
    Array.from({ length: columns }, (_, c) => {
      const [e, n] = grid.forward(utm.inverse([x0 + c + 0.5, y0 + rows - r - 0.5]));
      return (31.2 - 0.03 * n + bank(e, n)).toFixed(3);
    }).join(" "),
  );
  const head = `ncols ${columns}\nnrows ${rows}\nxllcorner ${x0}\nyllcorner ${y0}\ncellsize 1\nNODATA_value -9999\n`;
  await writeFile(`${DIR}/house-garden-heights.asc`, `${head}${lines.join("\n")}\n`);
  await writeFile(`${DIR}/house-garden-heights.prj`, `${wkt}\n`);
}

await heights();
await writeFile(`${DIR}/house-garden.geojson`, geojson(garden));
await writeFile(`${DIR}/house-garden-station.geojson`, geojson([...garden, station]));
await writeFile(`${DIR}/house-garden-no-wire.geojson`, geojson([...garden, play]));
await writeFile(`${DIR}/house-garden.kml`, kml(garden));
await shapefiles(garden);

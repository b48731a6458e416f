/** Texts of a stream: RFC 8142 (GeoJSON text sequences, after RFC 7464) and one a line. */
import { expect, it } from "vitest";
import { readTexts } from "../../cli/batch/read-texts.ts";
import { streamPlots } from "../../cli/batch/stream-plots.ts";
import { seeded } from "../support/seeded.ts";

async function* inPieces(text: string, sizes: () => number) {
  const bytes = new TextEncoder().encode(text);
  for (let at = 0; at < bytes.length; ) {
    const size = sizes();
    yield bytes.subarray(at, at + size);
    at += size;
  }
}

async function textsOf(stream: AsyncIterable<Uint8Array>, bytesMax?: number) {
  const texts: (string | undefined)[] = [];
  for await (const { bytes } of readTexts(stream, bytesMax)) {
    texts.push(bytes && new TextDecoder().decode(bytes).trim());
  }
  return texts;
}

it("are the same however the stream is cut, with and without separators", async () => {
  const random = seeded(3);
  const texts = ['{"a":"é"}', '{"b":2}', '{"c":\u2028"€"}'.replace("\u2028", "")];
  const spread = texts.map((text) => text.replace(",", ",\n"));
  for (let i = 0; i < 40; i++) {
    const size = () => 1 + Math.floor(random() * (i % 7 === 0 ? 1 : 12));
    const sequence = spread.map((text) => `\u001e${text}\n`).join("");
    expect(await textsOf(inPieces(sequence, size))).toEqual(spread);
    expect(await textsOf(inPieces(`\ufeff\n${texts.join("\r\n\n")}`, size))).toEqual(texts);
  }
  expect(await textsOf(inPieces("", () => 1))).toEqual([]);
  expect(await textsOf(inPieces(" \n\u001e\u001e \n", () => 2))).toEqual([]);
});

it("one that is too long is left out, and the next is read", async () => {
  const stream = `\u001e{"a":1}\n\u001e${"x".repeat(5000)}\n\u001e{"b":2}\n`;
  expect(
    await textsOf(
      inPieces(stream, () => 100),
      1000,
    ),
  ).toEqual(['{"a":1}', undefined, '{"b":2}']);
});

it("a file that is no sequence is refused at its first line", async () => {
  const file = JSON.stringify({ type: "FeatureCollection", features: [] }, null, 2);
  await expect(textsOf(inPieces(file, () => 64))).rejects.toMatchObject({
    problem: { code: "STREAM_NOT_SEQUENCE" },
  });
});

it("make plots: each text, or runs of one value; a value that comes back says so", async () => {
  const feature = (parcel: string, id: number) =>
    JSON.stringify({ type: "Feature", id, properties: { parcel }, geometry: null });
  const lines = [feature("a", 1), feature("a", 2), "no JSON", feature("b", 3), feature("a", 4)];
  const all = `${lines.join("\n").replace("no JSON", "{no JSON}")}\n`;
  const plotsOf = async (field?: string) => {
    const plots = [];
    for await (const { number, name, file, isAgain } of streamPlots(
      inPieces(all, () => 50),
      field,
    )) {
      const texts = new TextDecoder().decode(file.bytes).split("\u001e").filter(Boolean);
      plots.push([number, name, texts.length, isAgain ?? false]);
    }
    return plots;
  };
  expect(await plotsOf()).toEqual([
    [1, "1", 1, false],
    [2, "2", 1, false],
    [3, "#3", 1, false],
    [4, "3", 1, false],
    [5, "4", 1, false],
  ]);
  expect(await plotsOf("Parcel")).toEqual([
    [1, "a", 2, false],
    [2, "#2", 1, false],
    [3, "b", 1, false],
    [4, "a", 1, true],
  ]);
});

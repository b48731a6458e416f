import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";

const HEAD = `The command line of pegline holds code of the packages below. Each is under its own licence.
`;

/** Names, versions, licences and licence texts of the packages that went into chunks. */
export async function thirdPartyNotices(chunks) {
  const files = chunks.flatMap((chunk) => chunk.moduleIds);
  const folders = new Set(files.flatMap((file) => packageFolder(file) ?? []));
  const notices = await Promise.all([...folders].sort().map(noticeOf));
  const isLettered = files.some((file) => file.endsWith("font/arimo.data.ts"));
  const lettering = isLettered ? [await letteringNotice()] : [];
  return `${HEAD}\n${[...notices, ...lettering].join("\n")}`;
}

/** The innermost package that a file belongs to. */
function packageFolder(file) {
  return /^.*\/node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(file.replaceAll("\\", "/"))?.[0];
}

/** Texts of packages that name their licence but hold no text of it: the same text, found elsewhere. */
const TEXT_ELSEWHERE = {
  "clipper2-wasm": "scripts/licences/BSL-1.0.txt",
  lerc: "LICENSE",
  // By the author of the other, who published both with shapefile.
  "stream-source": "node_modules/slice-source/LICENSE",
  // These three by the author of the other, whose text is MIT as well.
  brotli: "node_modules/png-js/LICENSE",
  dfa: "node_modules/png-js/LICENSE",
  fontkit: "node_modules/png-js/LICENSE",
};

/** The lettering of drawings, which is in the code as data. */
async function letteringNotice() {
  const text = await readFile("src/export/sheet/font/OFL.txt", "utf8");
  return entry("Arimo (cut down)", "OFL-1.1", text.trim());
}

async function noticeOf(folder) {
  const { name, version, license } = JSON.parse(
    await readFile(join(folder, "package.json"), "utf8"),
  );
  const names = (await readdir(folder)).filter((one) => /^(licen[cs]e|notice|copying)/i.test(one));
  const paths = names.sort().map((one) => join(folder, one));
  if (paths.length === 0 && TEXT_ELSEWHERE[name]) paths.push(TEXT_ELSEWHERE[name]);
  if (paths.length === 0) throw new Error(`${name} holds no licence text: say where it is.`);
  const texts = await Promise.all(paths.map((one) => readFile(one, "utf8")));
  const text = texts.map((one) => one.trim()).join("\n\n");
  return entry(`${name} ${version}`, license ?? UNSTATED[name], text);
}

/** The package has the text, but does not name its licence in its description. */
const UNSTATED = { "png-js": "MIT" };

function entry(title, licence, text) {
  const rule = "=".repeat(80);
  return `${rule}\n${title}\nLicence: ${licence}\n${rule}\n\n${text}\n`;
}

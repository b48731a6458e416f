/**
 * How blocks of a GeoTIFF are unpacked: by decoders that stop at the size of a block.
 *
 * Those of the package `geotiff` unpack whatever a block claims, and its LZW does not end on a code
 * that cannot be. Compressions that are not for heights, or have no bound, are refused by name.
 */
import { addDecoder, BaseDecoder } from "geotiff";
import { ZSTDDecoder } from "zstddec";
import { boundedInflate } from "./bounded-inflate.ts";
import { boundedLzw } from "./bounded-lzw.ts";
import { boundedPackBits } from "./bounded-packbits.ts";

/** Most bytes of one sample. */
const SAMPLE_BYTES = 8;

type Unpack = (packed: Uint8Array, bytesMax: number) => Uint8Array;

function decoder(unpack: Unpack): typeof BaseDecoder {
  return class extends BaseDecoder {
    override decodeBlock(buffer: ArrayBufferLike): ArrayBufferLike {
      const { tileWidth, tileHeight, samplesPerPixel } = this.parameters;
      const bytesMax = tileWidth * tileHeight * (samplesPerPixel ?? 4) * SAMPLE_BYTES;
      const whole = unpack(new Uint8Array(buffer), bytesMax);
      return whole.buffer;
    }
  } as typeof BaseDecoder;
}

const zstd = new ZSTDDecoder();

/** Gives nothing where a block is broken or holds more than was said. */
const boundedZstd: Unpack = (packed, bytesMax) => {
  const whole = zstd.decode(packed, bytesMax);
  if (whole.length === 0) throw new Error("a Zstandard block is broken, or larger than its size");
  return whole;
};

const REFUSED: Readonly<Record<number, string>> = {
  6: "JPEG",
  7: "JPEG",
  34887: "LERC",
  50001: "WebP",
};

let isDone = false;

/** Puts the decoders in the place of the package's own, once. */
export function useBoundedDecoders(): void {
  if (isDone) return;
  isDone = true;
  const add = (codes: number | number[], load: () => Promise<typeof BaseDecoder>): void =>
    addDecoder(codes, load, undefined, false);
  add(5, async () => decoder(boundedLzw));
  add([8, 32946], async () => decoder(boundedInflate));
  add(32773, async () => decoder(boundedPackBits));
  add(50000, async () => {
    await zstd.init();
    return decoder(boundedZstd);
  });
  for (const [code, name] of Object.entries(REFUSED)) {
    add(Number(code), async () => {
      throw new Error(`it is packed by ${name}, which is not read; pack it with DEFLATE`);
    });
  }
}

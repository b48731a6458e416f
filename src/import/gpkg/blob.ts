import { readWkb, type WkbOutcome } from "../wkb.ts";

/** Bytes of the envelope by its code in the flags (OGC 12-128r18, table 20); 5 to 7 are invalid. */
const ENVELOPE_BYTES = [0, 32, 48, 48, 64];
const HEADER_BYTES = 8;

/**
 * The geometry in a GeoPackageBinary (OGC 12-128r18, clause 2.1.3): header, envelope, WKB. An extended
 * geometry type is returned by its mark; an empty geometry is null.
 */
export function readGeometryBlob(bytes: Uint8Array): WkbOutcome {
  if (bytes.length < HEADER_BYTES || bytes[0] !== 0x47 || bytes[1] !== 0x50) {
    return { kind: "damaged", why: "it does not begin with GP" };
  }
  const flags = bytes[3]!;
  if (flags & 0x20) {
    const mark = new TextDecoder("windows-1252").decode(bytes.subarray(8, 12));
    return { kind: "type", name: `extension ${JSON.stringify(mark)}` };
  }
  const envelopeBytes = ENVELOPE_BYTES[(flags >> 1) & 7];
  if (envelopeBytes === undefined)
    return { kind: "damaged", why: "its envelope is of no known kind" };
  if (flags & 0x10) return { kind: "geometry", geometry: null };
  return readWkb(bytes, HEADER_BYTES + envelopeBytes);
}

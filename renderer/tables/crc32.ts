/** CRC-32 by ISO 3309, a byte at a time; begins with `CRC_START`. */
export function crcGoesOn(sum: number, bytes: Uint8Array): number {
  let so = sum;
  for (const byte of bytes) so = (TABLE[(so ^ byte) & 0xff] ?? 0) ^ (so >>> 8);
  return so;
}

export const CRC_START = 0xffffffff;

/** The sum as files state it. */
export const crcEnds = (sum: number): number => (sum ^ 0xffffffff) >>> 0;

const TABLE = Int32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? 0xedb88320 ^ (rest >>> 1) : rest >>> 1;
  return rest;
});

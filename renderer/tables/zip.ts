const END = 0x06054b50;
const ENTRY = 0x02014b50;
const END_BYTES = 22;
const ENTRY_BYTES = 46;

/**
 * How many bytes a zip archive says that it holds unpacked, by its central directory (PKWARE
 * APPNOTE 6.3.10, 4.3.12 and 4.3.16); null where it has none: the file is cut off or no archive.
 */
export function unpackedBytes(bytes: Uint8Array): number | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  // A comment of up to 65,535 bytes may stand behind the end record.
  const first = Math.max(0, bytes.length - END_BYTES - 0xffff);
  let end = bytes.length - END_BYTES;
  while (end >= first && view.getUint32(end, true) !== END) end--;
  if (end < first || end < 0) return null;
  let at = view.getUint32(end + 16, true);
  let sum = 0;
  for (let entries = view.getUint16(end + 10, true); entries > 0; entries--) {
    if (at + ENTRY_BYTES > bytes.length || view.getUint32(at, true) !== ENTRY) return null;
    sum += view.getUint32(at + 24, true);
    const lengths = [28, 30, 32].map((offset) => view.getUint16(at + offset, true));
    at += lengths.reduce((total, length) => total + length, ENTRY_BYTES);
  }
  return sum;
}

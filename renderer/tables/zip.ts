import { CRC_START, crcEnds, crcGoesOn } from './crc32';

const END = 0x06054b50;
const ENTRY = 0x02014b50;
const LOCAL = 0x04034b50;
const END_BYTES = 22;
const ENTRY_BYTES = 46;
const LOCAL_BYTES = 30;

/** One file of a zip archive, still packed. */
export interface ZipEntry {
  /** In the signs of ASCII; any other byte stands for itself. */
  name: string;
  method: number;
  crc: number;
  unpackedBytes: number;
  data: Uint8Array;
}

/**
 * The files of a zip archive by its central directory (PKWARE APPNOTE 6.3.10, 4.3.7, 4.3.12 and
 * 4.3.16); null where it has none or points beyond the file: it is cut off or no archive.
 */
export function zipEntries(bytes: Uint8Array): ZipEntry[] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  // A comment of up to 65,535 bytes may stand behind the end record.
  const first = Math.max(0, bytes.length - END_BYTES - 0xffff);
  let end = bytes.length - END_BYTES;
  while (end >= first && view.getUint32(end, true) !== END) end--;
  if (end < first || end < 0) return null;
  const entries: ZipEntry[] = [];
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left--) {
    if (at + ENTRY_BYTES > bytes.length || view.getUint32(at, true) !== ENTRY) return null;
    const local = view.getUint32(at + 42, true);
    if (local + LOCAL_BYTES > bytes.length || view.getUint32(local, true) !== LOCAL) return null;
    const start =
      local + LOCAL_BYTES + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    const packed = view.getUint32(at + 20, true);
    if (start + packed > bytes.length) return null;
    const nameAt = at + ENTRY_BYTES;
    entries.push({
      name: String.fromCharCode(...bytes.subarray(nameAt, nameAt + view.getUint16(at + 28, true))),
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      unpackedBytes: view.getUint32(at + 24, true),
      data: bytes.subarray(start, start + packed),
    });
    const lengths = [28, 30, 32].map((offset) => view.getUint16(at + offset, true));
    at += lengths.reduce((total, length) => total + length, ENTRY_BYTES);
  }
  return entries;
}

const STORED = 0;
const DEFLATED = 8;

function unpacking({ method, data }: Pick<ZipEntry, 'method' | 'data'>) {
  const source = new Blob([data.slice()]).stream();
  return method === STORED ? source : source.pipeThrough(new DecompressionStream('deflate-raw'));
}

/** The text of a file that is whole. */
export const textOf = (entry: ZipEntry): Promise<string> => new Response(unpacking(entry)).text();

/** Whether a file unpacks to what the archive says of it: length and CRC-32. */
export async function isWhole({ method, crc, unpackedBytes, data }: ZipEntry): Promise<boolean> {
  if (method !== STORED && method !== DEFLATED) return false;
  const reader = unpacking({ method, data }).getReader();
  let length = 0;
  let sum = CRC_START;
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      length += value.length;
      // More than was said is no whole file, and need not be unpacked any further.
      if (length > unpackedBytes) return false;
      sum = crcGoesOn(sum, value);
    }
  } catch (error) {
    // Data that cannot be unpacked: browsers and Node tell it by errors of different kinds.
    if (!(error instanceof Error)) throw error;
    return false;
  }
  return length === unpackedBytes && crcEnds(sum) === crc;
}

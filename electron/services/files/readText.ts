import { open, stat } from 'node:fs/promises';
import { decodeOther } from '../../../renderer/tables/encoding';
import { FileTrouble, troubleWith } from './fileTrouble';
import { patiently } from './patiently';

/** No plan, table or lamp file comes near this; a device such as /dev/zero has no end. */
const limitBytes = 200_000_000;
const partBytes = 1 << 20;

/**
 * The text of a file. Plans are UTF-8; tables and lamp files may also come from programs that write
 * UTF-16 or Windows-1252, which are read too where `anyEncoding` is set. Throws a sentence that
 * names the file.
 */
export async function readText(path: string, anyEncoding = false): Promise<string> {
  return decode(path, await readBytes(path), anyEncoding);
}

/** The bytes of a file. Throws a sentence that names the file. */
export async function readBytes(path: string): Promise<Uint8Array> {
  try {
    return await readWithin(path, limitBytes);
  } catch (error) {
    throw troubleWith(`${path}: cannot be read, `, error);
  }
}

/** The text in the bytes of the file `path`, as `readText` gives it. */
export function decode(path: string, bytes: Uint8Array, anyEncoding = false): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (anyEncoding) return decodeOther(bytes);
    throw new FileTrouble(`${path}: is not text in UTF-8`, { cause: error });
  }
}

async function readWithin(path: string, limit: number): Promise<Uint8Array> {
  const tooLarge = `it is over ${Math.round(limit / 1e6)} MB`;
  if ((await stat(path)).size > limit) throw new FileTrouble(tooLarge);
  const file = await patiently(['EBUSY'], () => open(path, 'r'));
  try {
    const parts: Uint8Array[] = [];
    let total = 0;
    for (;;) {
      const part = Buffer.allocUnsafe(partBytes);
      const { bytesRead } = await file.read(part, 0, partBytes, null);
      if (bytesRead === 0) return Buffer.concat(parts);
      parts.push(part.subarray(0, bytesRead));
      total += bytesRead;
      if (total > limit) throw new FileTrouble(tooLarge);
    }
  } finally {
    await file.close();
  }
}

import { readFile } from 'node:fs/promises';
import { decodeOther } from '../../renderer/document/encoding';
import { fileTrouble } from './file-trouble';

/**
 * The text of a file. Plans are UTF-8; tables and lamp files may also come from programs that write
 * UTF-16 or Windows-1252, which are read too where `anyEncoding` is set. Throws a sentence that
 * names the file.
 */
export async function readText(path: string, anyEncoding = false): Promise<string> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new Error(`${path}: cannot be read, ${fileTrouble(error)}`, { cause: error });
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (anyEncoding) return decodeOther(bytes);
    throw new Error(`${path}: is not text in UTF-8`, { cause: error });
  }
}

import { readFile } from 'node:fs/promises';
import { fileTrouble } from './file-trouble';

/**
 * The text of a file. Plans are UTF-8; tables and lamp files may also come from programs that
 * still write Windows-1252, which is what the rest is taken for when `elseWindows` is set.
 * Throws a sentence that names the file.
 */
export async function readText(path: string, elseWindows = false): Promise<string> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new Error(`${path}: cannot be read, ${fileTrouble(error)}`, { cause: error });
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (elseWindows) return new TextDecoder('windows-1252').decode(bytes);
    throw new Error(`${path}: is not text in UTF-8`, { cause: error });
  }
}

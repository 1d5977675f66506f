import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import type { FileNow, FileRef } from '../../../shared-types/window/ipc';
import { FileTrouble, troubleWith, unlessTrouble } from './fileTrouble';
import { fingerprint } from './fingerprint';
import { decode, readBytes } from './readText';
import { isWorkbook, oneSignAByte } from '../../../renderer/tables/encoding';
import { writeBeside } from './writeBeside';

/** The name by which the window knows a file, and what it has seen of it. */
export function refOf(path: string, seen: string | null): FileRef {
  return { key: path, name: basename(path), seen };
}

/**
 * Reads a file, in any encoding where `anyEncoding` is set, and where `workbooks` is set one of these
 * as its bytes. Throws a sentence.
 */
export async function openFile(
  path: string,
  { anyEncoding = false, workbooks = false } = {},
): Promise<{ text: string; ref: FileRef; bytes?: true }> {
  const bytes = await readBytes(path);
  const ref = refOf(path, fingerprint(bytes));
  if (workbooks && isWorkbook(bytes)) return { text: oneSignAByte(bytes), ref, bytes: true };
  return { text: decode(path, bytes, anyEncoding), ref };
}

/** What a file holds now; null: there is none. Throws a sentence where it cannot be read. */
export async function fileNow(path: string): Promise<FileNow | null> {
  const found = await unlessTrouble(() => stat(path));
  if (!found) return null;
  const bytes = await readBytes(path);
  // What is no text is no plan, and is shown as such.
  const text = await unlessTrouble(() => Promise.resolve(decode(path, bytes)));
  return { ref: refOf(path, fingerprint(bytes)), text, changedAt: found.mtime.toISOString() };
}

/**
 * Writes a file unless somebody else has changed it: what it holds must be what the window has
 * `seen` of it, or already the text itself. Gives what is there instead where it is not; null:
 * written. The comparison is made at the last moment before the new content takes its place.
 */
export async function writeUnlessChanged(
  { key: path, seen }: FileRef,
  text: string,
): Promise<FileNow | null> {
  let theirs: FileNow | null = null;
  const compare = async (): Promise<void> => {
    const now = await fileNow(path);
    if (now === null || now.ref.seen === seen || now.ref.seen === fingerprint(text)) return;
    theirs = now;
    throw new FileTrouble('changed meanwhile');
  };
  try {
    await writeBeside(path, text, compare);
  } catch (error) {
    if (theirs === null) throw cannotBeSaved(path, error);
  }
  return theirs;
}

/** Writes a file whose place the person has just chosen. Throws a sentence. */
export async function writeFileAt(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await writeBeside(path, content);
  } catch (error) {
    throw cannotBeSaved(path, error);
  }
}

function cannotBeSaved(path: string, error: unknown): Error {
  return troubleWith(`${path}: cannot be saved, `, error);
}

import { access, constants, lstat, realpath, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { troubleWith, unlessTrouble } from '../services/files/fileTrouble';
import { fileToReplace, writeBeside } from '../services/files/writeBeside';
import { BatchError } from './batchError';
import { tablesIn } from './inputs';
import type { VerbArguments } from './verb';
import { writeTogether } from './writeTogether';

/** Where a verb's result goes: the option and what was given for it. */
export interface Target {
  readonly option: string;
  readonly path: string;
}

/**
 * Writes the whole result to a file or leaves the file as it was. Throws a BatchError where it
 * cannot be written.
 */
export async function writeResult(target: Target, text: string): Promise<void> {
  try {
    // A link stays a link; what it leads to is written.
    await writeBeside((await unlessTrouble(() => realpath(target.path))) ?? target.path, text);
  } catch (error) {
    throw unwritable(target, error, WRITABLE);
  }
}

/** A file that cannot be is named before its content is made, which takes its time. */
export async function refuseFile({ option, path }: Target): Promise<void> {
  const leads = await unlessTrouble(() => realpath(path));
  const link = leads === null ? await unlessTrouble(() => lstat(path)) : null;
  if (link?.isSymbolicLink()) {
    throw new BatchError(`--${option} ${path}`, 'is a link that leads nowhere', WRITABLE);
  }
  try {
    await fileToReplace(leads ?? path);
    await access(dirname(leads ?? path), constants.W_OK);
  } catch (error) {
    throw unwritable({ option, path }, error, WRITABLE);
  }
}

const WRITABLE = 'a file in a folder that can be written is expected';

const unwritable = ({ option, path }: Target, error: unknown, expected: string): BatchError =>
  new BatchError(
    `--${option} ${path}`,
    troubleWith('cannot be written, ', error).message,
    expected,
  );

/**
 * Writes files into a folder, all or none. Throws a BatchError where one of them is an input or
 * they cannot be written.
 */
export async function writeFolder(
  { option, path }: Target,
  contents: ReadonlyMap<string, string | Uint8Array>,
  { inputs }: Pick<VerbArguments, 'inputs'>,
): Promise<void> {
  for (const name of contents.keys()) {
    await refuseInput(`--${option} ${path}, ${name}`, join(path, name), inputs);
  }
  try {
    await writeTogether(path, contents);
  } catch (error) {
    throw unwritable({ option, path }, error, 'a folder that can be written is expected');
  }
}

/** A folder that cannot be is named before its files are made, which takes its time. */
export async function refuseFolder({ option, path }: Target): Promise<void> {
  const there = await unlessTrouble(() => stat(path));
  if (there === null || there.isDirectory()) return;
  throw new BatchError(`--${option} ${path}`, 'is a file', 'a folder is expected');
}

/**
 * Throws a BatchError where `path` is one of the inputs: by what the file is, not by its name, for
 * links and other spellings lead to the same one.
 */
export async function refuseInput(
  where: string,
  path: string,
  inputs: readonly string[],
): Promise<void> {
  const target = await identity(path);
  if (target === null) return;
  for (const input of inputs) {
    for (const file of await filesOf(input)) {
      if ((await identity(file)) !== target) continue;
      throw new BatchError(
        where,
        `is the input ${file}`,
        'another name is expected; inputs are never overwritten',
      );
    }
  }
}

/** The tables of a folder that is read whole; otherwise the file itself. */
async function filesOf(input: string): Promise<string[]> {
  const names = await unlessTrouble(() => tablesIn(input));
  return names?.map((name) => join(input, name)) ?? [input];
}

async function identity(path: string): Promise<string | null> {
  const found = await unlessTrouble(() => stat(path, { bigint: true }));
  return found && `${found.dev}:${found.ino}`;
}

/** Throws where a number is none: JSON would turn it into null without a word. */
export function asJson(result: unknown, indent?: number): string {
  try {
    return JSON.stringify(result, refuseNonFinite, indent);
  } catch (error) {
    // A string has a longest length, and so has a document.
    if (!(error instanceof RangeError)) throw error;
    throw new BatchError('output', 'is over 500 MB', 'a smaller table or plan is expected');
  }
}

function refuseNonFinite(this: unknown, key: string, value: unknown): unknown {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new TypeError(`result: ${key} is ${value}, which no result may hold`);
  }
  return value;
}

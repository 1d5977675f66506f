import { ZodError } from 'zod';

/**
 * What is the matter with a file, in a sentence that names it: its place, its content or the disk is
 * at fault, not the program. Any other error, but one of the file system's, is the program's.
 */
export class FileTrouble extends Error {
  override readonly name = 'FileTrouble';
}

/** Whether a file or the disk is at fault: a trouble of ours, or an error with a code of the system's. */
export function isFileTrouble(error: unknown): error is Error {
  return error instanceof FileTrouble || codeOf(error) !== null;
}

/** Whether a text is no JSON, or not what a schema expects of it. */
export function isUnreadable(error: unknown): boolean {
  return error instanceof SyntaxError || error instanceof ZodError;
}

/** What is found; null where a file or the disk is at fault, which is then no matter. */
export async function unlessTrouble<T>(work: () => Promise<T>): Promise<T | null> {
  try {
    return await work();
  } catch (error) {
    if (!isFileTrouble(error)) throw error;
    return null;
  }
}

/** The same of work that is done at once. */
export function unlessTroubleNow<T>(work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (!isFileTrouble(error)) throw error;
    return null;
  }
}

const notThere = 'there is no such file or folder';
const notAllowed = 'this account may not use it';
const tooManyOpen = 'too many files are open on this computer';
const tooLong = 'the name is too long';
const tooLarge = 'it is too large';
const noAnswer = 'the network drive does not answer';
const gone = 'the drive is not there any more';

const reasons: Record<string, string> = {
  ENOENT: notThere,
  ENOTDIR: 'part of the path is a file, not a folder',
  EISDIR: 'it is a folder, not a file',
  EEXIST: 'something of this name is there already',
  ENOTEMPTY: 'the folder is not empty',
  EACCES: notAllowed,
  EPERM: notAllowed,
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  EFBIG: tooLarge,
  ERR_FS_FILE_TOO_LARGE: tooLarge,
  ERR_STRING_TOO_LONG: tooLarge,
  ENAMETOOLONG: tooLong,
  EINVAL: 'this disk does not allow such a name or such an act',
  EILSEQ: 'this disk does not allow a sign in the name',
  ERR_INVALID_ARG_VALUE: 'the name holds a sign that no file name may hold',
  EBUSY: 'another program holds it',
  ETXTBSY: 'another program holds it',
  ELOOP: 'its links go in a circle',
  EXDEV: 'it lies on another disk',
  EMFILE: tooManyOpen,
  ENFILE: tooManyOpen,
  EIO: 'the disk reports a fault',
  ENXIO: gone,
  ENODEV: gone,
  ESTALE: noAnswer,
  ETIMEDOUT: noAnswer,
  EHOSTDOWN: noAnswer,
  EHOSTUNREACH: noAnswer,
  ENETDOWN: noAnswer,
  ENOTSUP: 'this disk cannot do it',
  ENOSYS: 'this disk cannot do it',
  EPIPE: 'nobody reads it any more',
  // Windows' own codes that have no name elsewhere: a cloud folder that is not running, and the like.
  UNKNOWN: 'the system or a cloud folder refuses it',
};

/**
 * The reason of a file system error in words: the one place where the system's codes become
 * sentences. An error that says itself what is wrong keeps its own words.
 */
export function fileTrouble(error: unknown): string {
  const code = codeOf(error);
  if (code === null) return error instanceof Error ? error.message : String(error);
  return reasons[code] ?? `the system refuses it, with code ${code}`;
}

/** The trouble after what could not be done with which file; an error of the program's is thrown on. */
export function troubleWith(what: string, error: unknown): FileTrouble {
  if (!isFileTrouble(error)) throw error;
  return new FileTrouble(`${what}${fileTrouble(error)}`, { cause: error });
}

/** What went wrong in a sentence that a person can read; names the file where the error does. */
export function troubleInWords(error: unknown): string {
  const path = error instanceof Error && 'path' in error ? error.path : undefined;
  const named = codeOf(error) !== null && typeof path === 'string' ? `${path}: ` : '';
  return named + fileTrouble(error);
}

/** The system's code; null: an error of our own making. */
function codeOf(error: unknown): string | null {
  if (!(error instanceof Error) || !('code' in error)) return null;
  const { code } = error;
  if (code === 'UNKNOWN') return code;
  if (typeof code !== 'string' || !/^E[A-Z_]+$/.test(code)) return null;
  // Node's own codes are of the program's mistakes, too.
  return code.startsWith('ERR_') && !(code in reasons) ? null : code;
}

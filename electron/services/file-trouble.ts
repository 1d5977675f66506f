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

/** What went wrong in a sentence that a person can read; names the file where the error does. */
export function troubleInWords(error: unknown): string {
  const path = error instanceof Error && 'path' in error ? error.path : undefined;
  const named = codeOf(error) !== null && typeof path === 'string' ? `${path}: ` : '';
  return named + fileTrouble(error);
}

/** The system's code; null: an error of our own making. */
function codeOf(error: unknown): string | null {
  if (!(error instanceof Error) || !('code' in error)) return null;
  return typeof error.code === 'string' && /^E[A-Z_]+$/.test(error.code) ? error.code : null;
}

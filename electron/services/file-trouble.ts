const reasons: Record<string, string> = {
  ENOENT: 'there is no such file or folder',
  ENOTDIR: 'part of the path is a file, not a folder',
  EISDIR: 'it is a folder, not a file',
  EACCES: 'this account may not use it',
  EPERM: 'this account may not use it',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  ENAMETOOLONG: 'the name is too long',
  EBUSY: 'another program holds it',
  ELOOP: 'its links go in a circle',
};

/** The reason of a file system error in words. */
export function fileTrouble(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const known = reasons[code];
  if (known !== undefined) return known;
  return error instanceof Error ? error.message : String(error);
}

import { createHash } from 'node:crypto';

/** SHA-256 of a content as it stands on the disk, in hexadecimal; text in UTF-8. */
export function fingerprint(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}

import { rename } from 'node:fs/promises';
import { patiently, type PatienceNeeds } from './patiently';

/** By these Windows says that somebody holds the file that is to be replaced. */
const held = ['EPERM', 'EACCES', 'EBUSY'];

/** Renames a file over another, which somebody may hold for a moment. */
export async function renameOver(
  from: string,
  to: string,
  work: (from: string, to: string) => Promise<void> = rename,
  needs?: PatienceNeeds,
): Promise<void> {
  await patiently(held, () => work(from, to), needs);
}

import type { PotInTrial } from '../../derive';

/** The pot of the layout with this code, however it is typed; or what is wrong with the code. */
export function potByCode(
  placed: ReadonlyMap<string, PotInTrial>,
  typed: string,
): { id: string } | { problem: string } {
  const plain = (code: string): string => code.replace(/[\s\-–−]/g, '').toUpperCase();
  const wanted = plain(typed);
  if (wanted === '') return { problem: 'Type the code of a pot, such as 1A-C4.' };
  for (const { pot } of placed.values()) {
    if (plain(pot.code) === wanted) return { id: pot.id };
  }
  return { problem: `No pot of the layout has the code ${typed.trim()}.` };
}

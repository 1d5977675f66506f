import type { LampKind } from '../../../shared-types/rack';
import { readPhotometry, type Photometry, type PhotometryAnswer } from './photometry';
import { Refusal } from '../../words';

// An emission never changes in place, and a file is long: each is read once.
const read = new WeakMap<LampKind['emission'], PhotometryAnswer>();

/** What the photometric file of a lamp kind says, or why it cannot be used; null without a file. */
export function photometryAnswer({
  emission,
}: Pick<LampKind, 'emission'>): PhotometryAnswer | null {
  if (emission.kind !== 'file') return null;
  const before = read.get(emission);
  if (before) return before;
  const answer = readPhotometry(emission.text);
  read.set(emission, answer);
  return answer;
}

/**
 * The photometric file of a lamp kind; null where its light leaves otherwise. Throws with the file's
 * name, the line, what was found and what is expected where it cannot be used.
 */
export function photometryOf(kind: LampKind): Photometry | null {
  const answer = photometryAnswer(kind);
  if (answer === null) return null;
  if (!answer.ok) {
    const { line, reason, found, expected } = answer;
    const fileName = kind.emission.kind === 'file' ? kind.emission.fileName : '';
    throw new Refusal(
      `lamp kind ${kind.name}: ${fileName}, line ${line}: ${reason}; found ${found}; ` +
        `expected ${expected}`,
    );
  }
  return answer.photometry;
}

import type { Emission, LampKind } from '../../../shared-types/rack';
import { readPhotometry, type Photometry, type PhotometryAnswer } from './photometry';
import { Refusal } from '../../words';

/** The photometric file that an emission is taken from; null where its light leaves by a law. */
export function fileOf(emission: Emission): Extract<Emission, { kind: 'file' }> | null {
  switch (emission.kind) {
    case 'file':
      return emission;
    case 'lambertian':
    case 'beam':
      return null;
    default:
      return emission satisfies never;
  }
}

// An emission never changes in place, and a file is long: each is read once.
const read = new WeakMap<Emission, PhotometryAnswer>();

/** What the photometric file of a lamp kind says, or why it cannot be used; null without a file. */
export function photometryAnswer({
  emission,
}: Pick<LampKind, 'emission'>): PhotometryAnswer | null {
  const file = fileOf(emission);
  if (!file) return null;
  const before = read.get(emission);
  if (before) return before;
  const answer = readPhotometry(file.text);
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
    const fileName = fileOf(kind.emission)?.fileName ?? '';
    throw new Refusal(
      `lamp kind ${kind.name}: ${fileName}, line ${line}: ${reason}; found ${found}; ` +
        `expected ${expected}`,
    );
  }
  return answer.photometry;
}

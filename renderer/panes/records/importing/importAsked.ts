import type { SheetPreview, TableQuestion } from '../../../document/records';
import { capital } from '../../../words';

type Found = { matched: Pick<SheetPreview, 'questions' | 'preview'> };

/** What is about single cells shows in the preview by itself. */
const isAnswered = ({ about }: TableQuestion): boolean => !/^(?:column|tray) /.test(about);

/** What is asked about columns and trays, a sentence each. */
export function askedWords({ matched }: Found): string[] {
  return matched.questions
    .filter((question) => !isAnswered(question))
    .map(({ about, found, expected }) => `${capital(about)}: ${found}; ${expected}.`);
}

/**
 * What has to be said before anything is taken over; null: nothing. A tray that does not fit stays
 * out as a whole and is told, so that the others need not wait for it.
 */
export function askedFirst({ matched }: Found): string | null {
  const columns = matched.questions.filter(({ about }) => about.startsWith('column '));
  const [first] = columns;
  if (!first) return matched.preview.problem === null ? null : matched.preview.problem;
  const more = columns.length > 1 ? ` (${columns.length - 1} more to say)` : '';
  const { about } = first;
  return first.column === undefined
    ? `Say first how the ${about} is to be read${more}.`
    : `Say first what the ${about} holds${more}.`;
}

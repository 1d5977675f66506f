import { list, plural } from '../../../words';
import type { Findings } from '../findings';
import type { Answer } from './answer';
import { answersOf } from './answers';
import { sureWords } from './sure';

/** The answers as they are laid out: what matters first, the rest folded away. */
export interface LaidAnswers {
  first: Answer[];
  folded: Answer[];
  /** What the folded ones say in all, e.g. `5 more questions: nothing shown`; empty without. */
  foldedWords: string;
}

/** As many cards stand there at least, where there are as many questions, and at most. */
const LEAST = 4;
const MOST = 6;

/** The answers of the findings, of many those first that say something. */
export function answerCards(findings: Findings): LaidAnswers {
  const all = answersOf(findings);
  // What place did is asked of every trial, and so is told of every one.
  const place = all.filter(({ about }) => about === 'place');
  const questions = all.filter(({ about }) => about !== 'place');
  const telling = questions.filter(({ sure }) => sure !== 'cannot-tell');
  const silent = questions.filter(({ sure }) => sure === 'cannot-tell');
  const room = Math.max(telling.length, LEAST - place.length);
  const chosen = new Set([
    ...[...telling, ...silent].slice(0, Math.min(room, MOST - place.length)),
    ...place,
  ]);
  const folded = all.filter((answer) => !chosen.has(answer));
  return {
    first: all.filter((answer) => chosen.has(answer)),
    folded,
    foldedWords:
      folded.length === 0 ? '' : `${plural(folded.length, 'more question')}: ${sum(folded)}`,
  };
}

function sum(answers: readonly Answer[]): string {
  const parts = (['clear', 'leaning'] as const).flatMap((sure) => {
    const n = answers.filter((answer) => answer.sure === sure).length;
    return n === 0 ? [] : [`${n} ${sureWords[sure]}`];
  });
  return parts.length === 0 ? 'nothing shown' : list(parts);
}

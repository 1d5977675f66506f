import type { Findings } from '../findings';
import { answerCards } from './cards';
import { sureWords } from './sure';

/** What a trial taught, in a line for the notes of the next one. */
export function learntWords(findings: Findings, title: string): string {
  const told = answerCards(findings).first.filter(({ sure }) => sure !== null);
  const answers = told.map(({ headline, figure, sure }) => {
    const how = sure ? sureWords[sure] : '';
    return `${headline}: ${[...(figure === '' ? [] : [figure]), how].join(', ')}.`;
  });
  return `Learnt from “${title}”, ${findings.response.name}: ${answers.join(' ')}`;
}

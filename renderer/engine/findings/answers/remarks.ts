import { capital, list, plural } from '../../../words';
import type { Findings } from '../findings';
import { positionChanges, plannedWords } from '../statements/positionStatements';
import { sensitivityOf } from '../position/sensitivity';
import { positionWords } from '../statements/wording';
import { leftOutWords } from '../refused/whyNotAnalysable';

/** What stands in a line each below the answers. */
export interface Remark {
  of: 'planned' | 'left out' | 'changed';
  head: string;
  text: string;
}

/** What was planned, what was left out, and what would have changed the answer. */
export function remarksOf(findings: Findings): Remark[] {
  return [
    { of: 'planned', head: 'Planned', text: findings.unplanned ?? plannedWords(findings) },
    { of: 'left out', head: 'Left out', text: leftOut(findings) },
    ...changed(findings),
  ];
}

function leftOut(findings: Findings): string {
  const words = leftOutWords(findings);
  const n = findings.pots.length;
  return words === ''
    ? `Nothing: all ${plural(n, 'pot')} are in.`
    : `${capital(words)}, of ${n} pots.`;
}

/** Whether another way of allowing for place would have given another verdict. */
function changed(findings: Findings): Remark[] {
  const { design, positions } = findings;
  if (design.tested.length === 0) return [];
  const head = 'Would change it';
  if (positions.length < 2) {
    return [{ of: 'changed', head, text: 'Not known: no correction for place could be tried.' }];
  }
  const words = positionWords(findings);
  const changes = positionChanges(findings).map(({ factor, shown, notShown }) => {
    const isShown = shown.includes(findings.primary.model);
    const [others, verdict] = isShown ? [notShown, 'not clear'] : [shown, 'clear'];
    const with_ =
      others.length > 2
        ? `${others.length} other corrections for place`
        : list(others.map((model) => words[model]));
    return `${factor} is ${verdict} with ${with_}`;
  });
  const text =
    changes.length === 0
      ? `None of ${positions.length} corrections for place${pairs(findings)}.`
      : `${capital(changes.join('; '))}.`;
  return [{ of: 'changed', head, text }];
}

/** Of single pairs some may change where the answer over all levels does not. */
function pairs(findings: Findings): string {
  const changing = sensitivityOf(findings).filter(({ cells }) =>
    cells.some(({ changes }) => changes === 'verdict'),
  );
  return changing.length === 0 ? '' : `; ${plural(changing.length, 'single pair')} would change`;
}

import { capital, list, plural } from '../../../words';
import { holm } from '../../stats/comparisons';
import type { Findings } from '../findings';
import type { FactorRole } from '../model/roles';
import type { Answer } from './answer';
import { sureOf, type Sure } from './sure';

interface Interaction {
  parts: string[];
  /** Of the model. */
  p: number;
  /** Adjusted for all interactions that were looked at (Holm): of twenty one is small by chance. */
  adjusted: number;
}

function interactionsOf({ design, primary }: Findings): Interaction[] {
  const columns = design.tested.map((role) => role.column);
  const found = primary.result.terms.flatMap(({ term, p }) => {
    const parts = term.split(' × ');
    const own = parts.length > 1 && parts.every((part) => columns.includes(part));
    return own && p !== null ? [{ parts, p }] : [];
  });
  const adjusted = holm(found.map(({ p }) => p));
  return found.map((one, i) => ({ ...one, adjusted: adjusted[i] ?? 1 }));
}

/** How sure it is that these factors act on each other; null where that was not tested. */
export function sureTogether(findings: Findings, columns: readonly string[]): Sure | null {
  const found = interactionsOf(findings).find(
    ({ parts }) => parts.length === columns.length && columns.every((c) => parts.includes(c)),
  );
  return found ? sureOf(found.adjusted, findings.alpha) : null;
}

/** An answer over all levels of another factor need not hold at each of them. */
export function dependsOn(findings: Findings, { column }: FactorRole): string {
  const all = interactionsOf(findings).filter(({ parts }) => parts.includes(column));
  const others = (of: readonly Interaction[]) =>
    list([...new Set(of.flatMap(({ parts }) => parts.filter((part) => part !== column)))]);
  const sure = all.filter(({ adjusted }) => adjusted < findings.alpha);
  if (sure.length > 0) return `It depends on ${others(sure)}.`;
  const perhaps = all.filter(({ p }) => p < findings.alpha);
  return perhaps.length > 0 ? `It may depend on ${others(perhaps)}.` : '';
}

/** Interactions that show, each; of the others that none does. */
export function interactionAnswers(findings: Findings): Answer[] {
  const { alpha } = findings;
  const all = interactionsOf(findings);
  const isShown = ({ adjusted }: Interaction) => sureOf(adjusted, alpha) !== 'cannot-tell';
  const others = all.filter((one) => !isShown(one));
  const several = all.length > 1 ? `Allowed for ${all.length} combinations looked at.` : '';
  const answers = all.filter(isShown).map(({ parts, adjusted }): Answer => {
    const sure = sureOf(adjusted, alpha);
    return {
      of: parts.join(' × '),
      about: 'interaction',
      headline:
        sure === 'clear'
          ? `${capital(list(parts))} act on each other`
          : `Perhaps ${list(parts)} act on each other`,
      figure: 'Read their combined means, not the single ones alone.',
      sure,
      why: several,
    };
  });
  if (others.length === 0) return answers;
  const [only] = others;
  const which =
    others.length === 1 && only ? list(only.parts) : plural(others.length, 'combination');
  return [
    ...answers,
    {
      of: 'Do they act on each other?',
      about: 'interaction',
      headline: `No clear sign of it: ${which}`,
      figure: '',
      sure: 'cannot-tell',
      why: 'Their combined means show how much could hide.',
    },
  ];
}

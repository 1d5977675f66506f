import type { TermRow } from '../../../../shared-types/fit';
import { unitWords } from '../../../../shared-types/trial/trial';
import type { Findings } from '../findings';
import { inPlanOrder, type FactorRole } from '../model/roles';
import { mainComparison } from '../position/sensitivity';
import { meanShown, saidDifference, saidInterval } from '../model/scale';
import type { Statement } from './statement';
import { answeringP } from '../scores';
import { termOf } from './terms';
import { amongMeans, type Averaged } from '../model/unitMeans';
import { asIntervals, capital, list, percentOf, said, saidDf, saidP } from '../../../words';

export function factorStatement(findings: Findings, role: FactorRole): Statement {
  const result = findings.primary.result;
  const term = termOf(result, [role.column]);
  const name = role.factor.name;
  const unit = findings.response.unit;
  if (!term || term.statistic === null || term.p === null) {
    return {
      about: 'factor',
      of: name,
      text: `${capital(name)} could not be tested: no degrees of freedom are left for its error.`,
    };
  }
  const by =
    findings.scale === 'poisson'
      ? 'that Poisson counts have by themselves'
      : amongUnits(role, findings.averaged);
  const p = answeringP(findings, role) ?? term.p;
  const test =
    shuffledWords(findings, role) ??
    `${testWords(term)}, ${saidP(term.p, findings.alpha)}, judged by the variation ${by}`;
  const rows = result.means.find((m) => m.of.length === 1 && m.of[0] === role.column)?.rows ?? [];
  const shown = inPlanOrder(rows, [role.column], findings.roles).map((row) => ({
    level: beforeFigure(String(row[role.column])),
    ...meanShown(row),
  }));
  const say = asIntervals(shown.map(({ lower, upper }) => [lower, upper] as const));
  const means = list(
    shown.map(({ level, mean }) => `${level} ${unit ? `${say(mean)} ${unit}` : say(mean)}`),
  );
  const comparison = mainComparison(result, role);
  const widest = [...(comparison?.rows ?? [])].sort(
    (a, b) => Math.abs(b.difference) - Math.abs(a.difference),
  )[0];
  const verb = role.factor.kind === 'randomised' ? 'made a difference' : 'goes with a difference';
  if (p < findings.alpha) {
    const span = widest ? ` The widest difference, ${orderedPair(findings, widest)}.` : '';
    return {
      about: 'factor',
      of: name,
      text: `${capital(name)} ${verb} (${test}): ${meansAre(findings)} ${means}.${span}`,
    };
  }
  const allowed = widest
    ? ` The data still allow differences as large as ${saidDifference(findings, largest(comparison?.rows ?? []))} between two levels.`
    : ' How large a difference the data still allow cannot be told from them.';
  return {
    about: 'factor',
    of: name,
    text: `A difference between levels of ${name} is not shown (${test}): ${meansAre(findings)} ${means}.${allowed}`,
  };
}

/** How a score was judged: `randomisation test: 2 of 924 possible layouts, p = 0.002`; null: by its model. */
function shuffledWords({ scoreTests, alpha }: Findings, { column }: FactorRole): string | null {
  const test = scoreTests.find((one) => one.column === column);
  if (!test) return null;
  if ('refused' in test) return null;
  const { asExtreme, runs, exact, p } = test.found;
  return `randomisation test of the mean scores: ${asExtreme} of ${runs} ${exact ? 'possible' : 'shuffled'} layouts give as much, ${saidP(p, alpha)}`;
}

/** What of a score is no more than approximate: its intervals, and F where the shuffle could not be asked. */
export function scoreStatements({ scoreTests }: Findings): Statement[] {
  const unshuffled = scoreTests.flatMap((test): Statement[] =>
    'refused' in test
      ? [
          {
            about: 'factor',
            of: test.column,
            text: `A score should be judged by the shuffle alone; here F stands in for it: ${test.refused}`,
          },
        ]
      : [],
  );
  if (scoreTests.length === 0) return [];
  const text =
    'The intervals of mean scores are approximate: they take the steps of the scale as if they were measured.';
  return [...unshuffled, { about: 'check', text }];
}

/** What a factor is judged by; units larger than pots with their number. */
function amongUnits(
  { unit, unitsPerLevel, factor }: FactorRole,
  averaged: Averaged | null,
): string {
  const { many } = unitWords[unit];
  if (unit === 'pot' && averaged) return `among ${amongMeans(averaged)}`;
  if (unit === 'pot') return `among ${many}`;
  const units = [...unitsPerLevel.values()].reduce((sum, n) => sum + n, 0);
  return `among ${many}, ${factor.kind === 'randomised' ? 'drawn over' : 'told from'} ${units} ${many}`;
}

export function interactionStatements(findings: Findings): Statement[] {
  const columns = findings.design.tested.map((role) => role.column);
  return findings.primary.result.terms.flatMap((term): Statement[] => {
    const parts = term.term.split(' × ');
    if (parts.length < 2 || !parts.every((part) => columns.includes(part))) return [];
    if (term.statistic === null || term.p === null) return [];
    const names = list(parts);
    const test = `${testWords(term)}, ${saidP(term.p, findings.alpha)}`;
    return [
      {
        about: 'interaction',
        of: term.term,
        text:
          term.p < findings.alpha
            ? `The effects of ${names} depend on each other (${test}): read their combined means, not the single ones alone.`
            : `No clear interaction of ${names} (${test}): their combined means show how large one could still be.`,
      },
    ];
  });
}

/** What the means beside a test are; those of logarithms taken back are geometric. */
function meansAre({ scale }: Findings): string {
  return scale === 'log' ? 'adjusted geometric means' : 'adjusted means';
}

/** A level whose name is a number gets a colon, so that it is not read as part of its mean. */
function beforeFigure(level: string): string {
  return /[0-9]$/.test(level) ? `${level}:` : level;
}

function testWords(term: TermRow): string {
  const df = saidDf(term.df);
  if (term.kind === 'chi-square') return `χ² ${said(term.statistic ?? 0)} on ${df} df`;
  const { randomised } = term;
  const kind = randomised?.approximate ? 'approximate randomisation test' : 'randomisation test';
  const by = randomised ? `, ${kind} over ${randomised.layouts} layouts` : '';
  return `F ${said(term.statistic ?? 0)} on ${df} and ${saidDf(term.dfError ?? 0)} df${by}`;
}

function orderedPair(
  findings: Findings,
  row: { a: string; b: string; difference: number; lower: number; upper: number },
): string {
  const up = row.difference >= 0;
  const [more, less] = up ? [row.a, row.b] : [row.b, row.a];
  const [low, high] = up ? [row.lower, row.upper] : [-row.upper, -row.lower];
  return `${more} over ${less}, is ${saidDifference(findings, Math.abs(row.difference), { lower: low, upper: high })} (${percentOf(findings)} interval ${saidInterval(findings, low, high)})`;
}

function largest(rows: readonly { lower: number; upper: number }[]): number {
  return Math.max(0, ...rows.flatMap((row) => [Math.abs(row.lower), Math.abs(row.upper)]));
}

import type { TermRow } from '../../../../shared-types/fit';
import { unitWords } from '../../../../shared-types/trial';
import type { Findings } from '../findings';
import { plantsWords } from '../plants';
import { inPlanOrder, type FactorRole } from '../model/roles';

import {
  checkStatements,
  edgeStatements,
  gradientStatements,
  lightStatements,
  positionStatements,
} from './positionStatements';
import { mainComparison } from '../position/sensitivity';
import { meanShown, noDifference, saidDifference, saidInterval, SCALE_WORDS } from '../model/scale';
import { runStatements } from './runStatements';
import type { Statement } from './statement';
import { answeringP } from '../scores';
import { termOf } from './terms';
import { unitMismatchWords } from '../refused/unitMismatches';
import { amongMeans, averagedWords, type Averaged } from '../model/unitMeans';
import { leftOutWords } from '../refused/whyNotAnalysable';
import { asIntervals, capital, list, percentOf, plural, said, saidDf, saidP } from '../../../words';

/**
 * The findings in words. A sentence says no more than its figures do: where a difference is not
 * shown, it says which differences the interval still allows.
 */
export function statements(findings: Findings): Statement[] {
  return [
    ...unplannedStatements(findings),
    potsStatement(findings),
    ...runStatements(findings),
    ...lostStatements(findings),
    ...unitMismatchStatements(findings),
    ...findings.design.notReplicated.map((role) => notReplicatedStatement(findings, role)),
    ...findings.design.tested.map((role) => factorStatement(findings, role)),
    ...unshuffledStatements(findings),
    ...interactionStatements(findings),
    ...contrastStatements(findings),
    ...edgeStatements(findings),
    ...gradientStatements(findings),
    ...lightStatements(findings),
    ...positionStatements(findings),
    ...checkStatements(findings),
  ];
}

/** The method of the model that answers, with the measurement by its name. */
export function methodOf(findings: Findings): string {
  const { name } = findings.response;
  const named = `${name.charAt(0).toLowerCase()}${name.slice(1)}`;
  const method = findings.primary.result.method.replace(/\bresponse\b/, named);
  return [method, ...findings.cautions].join(' ');
}

/** The sentences in three groups: what differed, what position did, what the checks say. */
export function sentenceGroups(findings: Findings): string[][] {
  const all = statements(findings);
  const position = ['edge', 'light', 'position'];
  const groups = [
    all.filter((s) => !position.includes(s.about) && s.about !== 'check'),
    all.filter((s) => position.includes(s.about)),
    all.filter((s) => s.about === 'check'),
  ];
  return groups.filter((g) => g.length > 0).map((g) => g.map((s) => s.text));
}

/** The same as three paragraphs. */
export function paragraphs(findings: Findings): string[] {
  return sentenceGroups(findings).map((group) => group.join(' '));
}

/** All sentences as one paragraph. */
export function paragraph(findings: Findings): string {
  return statements(findings)
    .map((statement) => statement.text)
    .join(' ');
}

function unplannedStatements({ unplanned, multiplicity }: Findings): Statement[] {
  return [unplanned, multiplicity].flatMap((text) =>
    text === null ? [] : [{ about: 'pots', text }],
  );
}

function potsStatement(findings: Findings): Statement {
  const { averaged, plannedModel, pots, leftOut } = findings;
  const parts = leftOutWords(findings);
  const left = parts === '' ? '' : `; left out: ${parts}`;
  const scale = findings.scale === null ? '' : ` as ${SCALE_WORDS[findings.scale]}`;
  const [done, n] = averaged
    ? ['counted', pots.length - leftOut.length]
    : [`analysed${scale}`, findings.primary.result.n];
  const text = `${capital(findings.response.name)} was ${done} for ${n} of ${plural(pots.length, 'pot')}${left}.`;
  const means = averaged ? averagedWords(averaged, plannedModel) : [];
  const all = [text, ...means, ...plantsWords(findings), ...findings.unused];
  return { about: 'pots', text: all.join(' ') };
}

/** Levels of which nothing can be said, so that their silence is not taken for a result. */
function lostStatements(findings: Findings): Statement[] {
  return findings.lost.map(({ factor, levels }) => {
    const left =
      findings.roles.find((role) => role.factor.name === factor)?.unitsPerLevel.size ?? 0;
    const those = levels.length === 1 ? 'that level' : 'those levels';
    const so =
      left > 1
        ? `nothing is said about ${those} of ${factor}`
        : `levels of ${factor} cannot be compared`;
    return {
      about: 'factor',
      of: factor,
      text: `No pot with ${list(levels)} has a value that can be used, so ${so}.`,
    };
  });
}

function unitMismatchStatements({ unitMismatches }: Findings): Statement[] {
  return unitMismatches.map((mismatch) => {
    const { text, remedy } = unitMismatchWords(mismatch);
    return { about: 'factor', of: mismatch.factor, text: `${text} ${remedy}` };
  });
}

function notReplicatedStatement(findings: Findings, role: FactorRole): Statement {
  const rows = findings.described.find((d) => d.factor === role.factor.name)?.rows ?? [];
  const means = rows.map((row) => `${row.level} ${said(row.mean, findings.response.unit)}`);
  const { one, many } = unitWords[role.unit];
  return {
    about: 'factor',
    of: role.factor.name,
    text:
      `${capital(role.factor.name)} is not replicated: each level sits on one ${one} only ` +
      `(means ${list(means)}). A difference between these ${many} could be the ${many} themselves, ` +
      `so no test is made and nothing is concluded about ${role.factor.name}.`,
  };
}

function factorStatement(findings: Findings, role: FactorRole): Statement {
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

/** A score that could not be shuffled is judged as if it were normal, which is said. */
function unshuffledStatements({ scoreTests }: Findings): Statement[] {
  return scoreTests.flatMap((test): Statement[] =>
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

function interactionStatements(findings: Findings): Statement[] {
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

function contrastStatements(findings: Findings): Statement[] {
  const rows = findings.primary.result.contrasts;
  const added = rows.filter((row) => !isFixedBefore(findings, row));
  return rows.map((row) => {
    const factor = findings.design.tested.find((role) => role.column === row.of)?.factor;
    const figures =
      `${saidDifference(findings, row.estimate, row)} (${percentOf(findings)} interval ` +
      `${saidInterval(findings, row.lower, row.upper)}, ${saidP(row.p, findings.alpha)})`;
    const fixed = isFixedBefore(findings, row);
    const which = fixed ? 'The planned comparison' : 'The comparison';
    const note =
      row === added.at(-1)
        ? ` ${added.length === 1 ? 'It was' : 'These comparisons were'} not fixed in the plan before harvest.`
        : '';
    const name = `${which} ${row.name} of ${factor?.name ?? row.of}`;
    const none = `differ from ${noDifference(findings) === 0 ? 'zero' : 'a ratio of 1'}`;
    return {
      about: 'contrast',
      of: factor?.name ?? row.of,
      text:
        row.p < findings.alpha
          ? `${name} is ${figures}.${note}`
          : `${name} is not shown to ${none}: ${figures}.${note}`,
    };
  });
}

/** Whether a comparison stood in the plan when its rule was fixed, before the first value. */
export function isFixedBefore(findings: Findings, row: { name: string; of: string }): boolean {
  const role = findings.design.tested.find(({ column }) => column === row.of);
  const contrast = role?.factor.contrasts?.find(({ name }) => name === row.name);
  const { analysisLocked } = findings;
  const before =
    analysisLocked !== null && analysisLocked !== 'table' && analysisLocked.valuesThen === 0;
  return before && contrast?.preSpecified === true;
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

import type { FitResult, TermRow } from '../../../shared-types/fit';
import type { PositionModel } from '../../../shared-types/trial';
import type { Findings } from './findings';
import type { FactorRole } from './roles';

import { capital, list, plural, said, saidDf, saidP, saidRange } from './wording';

/** A sentence of the findings and what it rests on. */
export interface Statement {
  about: 'pots' | 'factor' | 'interaction' | 'edge' | 'light' | 'position' | 'check';
  /** The factor or interaction it speaks of. */
  of?: string;
  text: string;
}

export const POSITION_WORDS: Record<PositionModel, string> = {
  none: 'position left out',
  edge: 'edge pots told from inner pots',
  light: 'light at each pot',
  linear: 'a slope over rows and columns',
  'rows+columns': 'rows and columns of each tray',
  smooth: 'a smooth surface over each tray',
  ar1: 'likeness of neighbours along rows and columns',
};

/**
 * The findings in words. A sentence says no more than its figures do: where a difference is not
 * shown, it says which differences the interval still allows.
 */
export function statements(findings: Findings): Statement[] {
  return [
    potsStatement(findings),
    ...findings.design.notReplicated.map((role) => notReplicatedStatement(findings, role)),
    ...findings.design.tested.map((role) => factorStatement(findings, role)),
    ...interactionStatements(findings),
    ...edgeStatements(findings),
    ...lightStatements(findings),
    ...positionStatements(findings),
    ...checkStatements(findings),
  ];
}

/** All sentences as one paragraph. */
export function paragraph(findings: Findings): string {
  return statements(findings)
    .map((statement) => statement.text)
    .join(' ');
}

function potsStatement(findings: Findings): Statement {
  const all = findings.pots.length;
  const reasons: [string, string][] = [
    ['dead', 'dead'],
    ['missing', 'missing'],
    ['excluded', 'excluded by hand'],
    ['no-record', 'without a record'],
    ['not-positive', 'with a weight that is not positive'],
  ];
  const parts = reasons.flatMap(([why, word]) => {
    const n = findings.leftOut.filter((entry) => entry.why === why).length;
    return n > 0 ? [`${n} ${word}`] : [];
  });
  const left = parts.length > 0 ? `; left out: ${list(parts)}` : '';
  return {
    about: 'pots',
    text: `${capital(findings.response.name)} was analysed for ${findings.primary.result.n} of ${plural(all, 'pot')}${left}.`,
  };
}

function notReplicatedStatement(findings: Findings, role: FactorRole): Statement {
  const rows = findings.described.find((d) => d.factor === role.factor.name)?.rows ?? [];
  const means = rows.map((row) => `${row.level} ${said(row.mean, findings.response.unit)}`);
  return {
    about: 'factor',
    of: role.factor.name,
    text:
      `${capital(role.factor.name)} is not replicated: each level sits on one ${role.unit} only ` +
      `(means ${list(means)}). A difference between these ${role.unit === 'shelf' ? 'shelves' : `${role.unit}s`} ` +
      `could be the ${role.unit === 'shelf' ? 'shelves' : `${role.unit}s`} themselves, so no test is made and nothing is concluded about ${role.factor.name}.`,
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
  const test = `${testWords(term)}, ${saidP(term.p)}, judged by the variation ${yardstick(role)}`;
  const rows = result.means.find((m) => m.of.length === 1 && m.of[0] === role.column)?.rows ?? [];
  const means = list(rows.map((row) => `${String(row[role.column])} ${said(row.mean, unit)}`));
  const comparison = result.comparisons.find((c) => c.of.length === 1 && c.of[0] === role.column);
  const widest = [...(comparison?.rows ?? [])].sort(
    (a, b) => Math.abs(b.difference) - Math.abs(a.difference),
  )[0];
  const verb = role.factor.kind === 'assigned' ? 'made a difference' : 'goes with a difference';
  if (term.p < findings.alpha) {
    const span = widest ? ` The widest difference, ${orderedPair(widest, unit)}.` : '';
    return {
      about: 'factor',
      of: name,
      text: `${capital(name)} ${verb} (${test}): adjusted means ${means}.${span}`,
    };
  }
  const allowed = widest
    ? ` The data still allow differences as large as ${said(largest(comparison?.rows ?? []), unit)} between two levels.`
    : '';
  return {
    about: 'factor',
    of: name,
    text: `A difference between levels of ${name} is not shown (${test}): adjusted means ${means}.${allowed}`,
  };
}

function interactionStatements(findings: Findings): Statement[] {
  const columns = findings.design.tested.map((role) => role.column);
  return findings.primary.result.terms.flatMap((term): Statement[] => {
    const parts = term.term.split(' × ');
    if (parts.length < 2 || !parts.every((part) => columns.includes(part))) return [];
    if (term.statistic === null || term.p === null) return [];
    const names = list(parts);
    const test = `${testWords(term)}, ${saidP(term.p)}`;
    return [
      {
        about: 'interaction',
        of: term.term,
        text:
          term.p < findings.alpha
            ? `The effects of ${names} depend on each other (${test}): read their combined means, not the single ones alone.`
            : `That the effects of ${names} depend on each other is not shown (${test}).`,
      },
    ];
  });
}

function edgeStatements(findings: Findings): Statement[] {
  const edge = findings.edge;
  if (!edge) return [];
  const unit = findings.response.unit;
  const figures =
    `edge ${said(edge.edgeMean, unit)}, inner ${said(edge.innerMean, unit)}, ` +
    `difference ${said(edge.difference, unit)} (${percentOf(findings)} interval ${saidRange(edge.lower, edge.upper, unit)}, ${saidP(edge.p)})`;
  const word = edge.difference >= 0 ? 'higher' : 'lower';
  return [
    {
      about: 'edge',
      text:
        edge.p < findings.alpha
          ? `Values on the edge of a tray are ${word} than inside: ${figures}.`
          : `A difference between edge and inner pots is not shown: ${figures}.`,
    },
  ];
}

function lightStatements(findings: Findings): Statement[] {
  const light = findings.light;
  if (!light) return [];
  const per = 10;
  const unit = findings.response.unit;
  const figures =
    `${said(light.difference * per, unit)} per ${per} µmol m⁻² s⁻¹ ` +
    `(${percentOf(findings)} interval ${saidRange(light.lower * per, light.upper * per, unit)}, ${saidP(light.p)})`;
  return [
    {
      about: 'light',
      text:
        light.p < findings.alpha
          ? `Within blocks and treatments, pots with more light have ${light.difference > 0 ? 'higher' : 'lower'} values: ${figures}.`
          : `Within blocks and treatments, an effect of the light at each pot is not shown: ${figures}.`,
    },
  ];
}

function positionStatements(findings: Findings): Statement[] {
  if (findings.design.tested.length === 0 || findings.positions.length < 2) return [];
  const changed = positionChanges(findings);
  const tried = findings.positions.map((p) => POSITION_WORDS[p.model]);
  return [
    {
      about: 'position',
      text:
        changed.length === 0
          ? `The answers hold under all ${findings.positions.length} ways of allowing for position (${list(tried)}).`
          : changed
              .map(
                (change) =>
                  `The answer on ${change.factor} depends on how position is allowed for: ${change.shown.length > 0 ? `shown with ${list(change.shown.map((m) => POSITION_WORDS[m]))}` : 'shown with none'}, not with ${list(change.notShown.map((m) => POSITION_WORDS[m]))}.`,
              )
              .join(' '),
    },
  ];
}

/** Tested factors whose verdict differs between position models. */
export function positionChanges(
  findings: Findings,
): { factor: string; shown: PositionModel[]; notShown: PositionModel[] }[] {
  return findings.design.tested.flatMap((role) => {
    const shown: PositionModel[] = [];
    const notShown: PositionModel[] = [];
    for (const { model, result } of findings.positions) {
      const p = termOf(result, [role.column])?.p;
      if (p === null || p === undefined) continue;
      (p < findings.alpha ? shown : notShown).push(model);
    }
    return shown.length > 0 && notShown.length > 0
      ? [{ factor: role.factor.name, shown, notShown }]
      : [];
  });
}

function checkStatements(findings: Findings): Statement[] {
  const checks = findings.primary.result.checks;
  const parts: string[] = [];
  const moran = checks['moran'];
  const moranP = moran?.['p'];
  if (typeof moranP === 'number') {
    const i = said(moran?.['i'] ?? 0, '', 2);
    parts.push(
      moranP < findings.alpha
        ? `neighbouring pots still resemble each other in what is left over (Moran's I ${i}, ${saidP(moranP)})`
        : `what is left over shows no pattern among neighbouring pots (Moran's I ${i}, ${saidP(moranP)})`,
    );
  }
  const spreadP = checks['brown-forsythe']?.['p'];
  if (typeof spreadP === 'number' && spreadP < findings.alpha) {
    parts.push(`the spread differs between treatments (Brown–Forsythe ${saidP(spreadP)})`);
  }
  return parts.length > 0 ? [{ about: 'check', text: `${capital(parts.join('; '))}.` }] : [];
}

/** The term of a result that belongs to these columns, in whatever order they are crossed. */
export function termOf(result: FitResult, columns: readonly string[]): TermRow | undefined {
  const wanted = [...columns].sort().join(' × ');
  return result.terms.find((term) => term.term.split(' × ').sort().join(' × ') === wanted);
}

function testWords(term: TermRow): string {
  const df = saidDf(term.df);
  if (term.kind === 'chi-square') return `χ² ${said(term.statistic ?? 0)} on ${df} df`;
  return `F ${said(term.statistic ?? 0)} on ${df} and ${saidDf(term.dfError ?? 0)} df`;
}

function yardstick(role: FactorRole): string {
  if (role.unit === 'pot') return 'among pots';
  return role.unit === 'tray' ? 'among trays' : 'among shelves';
}

function orderedPair(
  row: { a: string; b: string; difference: number; lower: number; upper: number },
  unit: string,
): string {
  const up = row.difference >= 0;
  const [more, less] = up ? [row.a, row.b] : [row.b, row.a];
  const [low, high] = up ? [row.lower, row.upper] : [-row.upper, -row.lower];
  return `${more} over ${less}, is ${said(Math.abs(row.difference), unit)} (${saidRange(low, high, unit)})`;
}

function largest(rows: readonly { lower: number; upper: number }[]): number {
  return Math.max(0, ...rows.flatMap((row) => [Math.abs(row.lower), Math.abs(row.upper)]));
}

function percentOf(findings: Findings): string {
  return `${Number((findings.confidence * 100).toFixed(2))} %`;
}

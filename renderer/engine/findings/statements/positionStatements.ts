import type { PositionModel } from '../../../../shared-types/trial/position';
import { unitWords } from '../../../../shared-types/trial/trial';
import type { Findings, RuleFixed } from '../findings';
import type { EdgeEffect } from '../position/effects';
import { cannotJudge, judges } from '../position/sensitivity';
import type { Statement } from './statement';
import { termOf } from './terms';
import { isRatio, saidDifference, saidInterval } from '../model/scale';
import { positionWords } from './wording';
import { asIntervals, capital, list, percentOf, plural, said, saidP, sayDay } from '../../../words';

/** `edge 41.2 g, inner 43.0 g`, in like decimals. */
export function edgeMeansWords(edge: EdgeEffect, unit: string): string {
  const say = asIntervals([edge.edgeInterval, edge.innerInterval]);
  const mean = (value: number) => `${say(value)}${unit ? ` ${unit}` : ''}`;
  return `edge ${mean(edge.edgeMean)}, inner ${mean(edge.innerMean)}`;
}

export function edgeStatements(findings: Findings): Statement[] {
  const edge = findings.edge;
  if (!edge) return [];
  const unit = findings.response.unit;
  const figures =
    `${edgeMeansWords(edge, unit)}, ` +
    `${isRatio(findings.scale) ? '' : 'difference '}${saidDifference(findings, edge.difference, edge)} (${percentOf(findings)} interval ${saidInterval(findings, edge.lower, edge.upper)}, ${saidP(edge.p, findings.alpha)})`;
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

export function lightStatements(findings: Findings): Statement[] {
  const light = findings.light;
  if (!light) return [];
  const per = 10;
  const { lightOverTrial } = findings;
  const more = lightOverTrial ? 'more light over the trial' : 'more light';
  const each = positionWords(findings).light;
  const figures =
    `${saidDifference(findings, light.difference * per, times(light, per))} per ${per} µmol m⁻² s⁻¹ ` +
    `(${percentOf(findings)} interval ${saidInterval(findings, light.lower * per, light.upper * per)}, ${saidP(light.p, findings.alpha)})`;
  return [
    {
      about: 'light',
      text:
        light.p < findings.alpha
          ? `Within blocks and treatments, pots with ${more} have ${light.difference > 0 ? 'higher' : 'lower'} values: ${figures}.`
          : `Within blocks and treatments, an effect of ${each} is not shown: ${figures}.`,
    },
  ];
}

/** A slope over the rows and columns of the trays, where one is shown. */
export function gradientStatements(findings: Findings): Statement[] {
  const { gradient, alpha } = findings;
  if (!gradient) return [];
  const parts = [
    { effect: gradient.perRow, step: 'row', up: 'towards the back', down: 'towards the front' },
    { effect: gradient.perColumn, step: 'column', up: 'to the right', down: 'to the left' },
  ].flatMap(({ effect, step, up, down }) =>
    effect.p < alpha
      ? [
          `${saidDifference(findings, Math.abs(effect.difference), effect)}${isRatio(findings.scale) ? '' : ' more'} per ${step} ${effect.difference > 0 ? up : down} (${percentOf(findings)} interval of the slope ${saidInterval(findings, effect.lower, effect.upper)}, ${saidP(effect.p, findings.alpha)})`,
        ]
      : [],
  );
  if (parts.length === 0) return [];
  return [{ about: 'position', text: `Values change across the trays: ${list(parts)}.` }];
}

export function positionStatements(findings: Findings): Statement[] {
  if (findings.design.tested.length === 0 || findings.positions.length < 2) return [];
  const words = positionWords(findings);
  const sentences = [ruleSentence(findings)];
  const changed = positionChanges(findings);
  for (const { names, models } of agreements(findings, changed)) {
    const many = models.length === 2 ? 'both' : `all ${models.length}`;
    sentences.push(
      `The verdict on ${list(names)} is the same under ${many} ways of allowing for position (${list(models.map((m) => words[m]))}).`,
    );
  }
  for (const change of changed) {
    sentences.push(
      `The verdict on ${change.factor} depends on the correction for place: clear with ${list(change.shown.map((m) => words[m]))}; not clear with ${list(change.notShown.map((m) => words[m]))}.`,
    );
  }
  for (const role of findings.design.tested) {
    if (findings.positions.every(({ model }) => judges(model, role))) continue;
    sentences.push(`Position within ${unitWords[role.unit].many} ${cannotJudge(role)}.`);
  }
  return [{ about: 'position', text: sentences.join(' ') }];
}

/** Factors whose verdict is the same under several models that can judge them, by those models. */
function agreements(
  { design, positions }: Findings,
  changed: readonly { factor: string }[],
): { names: string[]; models: PositionModel[] }[] {
  const found = new Map<string, { names: string[]; models: PositionModel[] }>();
  for (const role of design.tested) {
    const { name } = role.factor;
    if (changed.some(({ factor }) => factor === name)) continue;
    const models = positions.flatMap(({ model, result }) => {
      const p = termOf(result, [role.column])?.p;
      return judges(model, role) && p !== null && p !== undefined ? [model] : [];
    });
    if (models.length < 2) continue;
    const group = found.get(models.join()) ?? { names: [], models };
    group.names.push(name);
    found.set(models.join(), group);
  }
  return [...found.values()];
}

/** The rule by which a model answers, when it was fixed, and which model it makes the one. */
export function ruleSentence(findings: Findings): string {
  const words = positionWords(findings);
  const planned = words[findings.plannedModel];
  const rule =
    findings.analysisLocked === 'table'
      ? `The model was chosen as the table was read: ${planned}.`
      : lockedWords(findings.analysisLocked, planned);
  if (findings.primary.model === findings.plannedModel) return rule;
  const reason = findings.refused.find((r) => r.model === findings.plannedModel)?.reason ?? '';
  return `${rule} It could not be fitted (${reason}), so what is said here is with ${words[findings.primary.model]}.`;
}

/** The same in a line, for whom the model's name and the date are enough. */
export function plannedWords(findings: Findings): string {
  const { analysisLocked, plannedModel, primary } = findings;
  const words = positionWords(findings);
  if (primary.model !== plannedModel) return ruleSentence(findings);
  const model = words[plannedModel];
  if (analysisLocked === 'table') return `The model was chosen as the table was read: ${model}.`;
  if (!analysisLocked)
    return `Not locked before the results, with ${model}: treat it as exploratory.`;
  const { date, valuesThen } = analysisLocked;
  return valuesThen === 0
    ? `Locked on ${sayDay(date)}, before any result, with ${model}.`
    : `Locked on ${sayDay(date)}, after ${plural(valuesThen, 'value')}, with ${model}: treat it as exploratory.`;
}

function lockedWords(analysisLocked: RuleFixed | null, planned: string): string {
  if (!analysisLocked) {
    return `This analysis was not locked before the results: treat it as exploratory. The plan names ${planned}.`;
  }
  const { date, valuesThen } = analysisLocked;
  return valuesThen === 0
    ? `You locked this analysis on ${sayDay(date)}, before any value of the main result: it gives the result, with ${planned}.`
    : `You locked this analysis on ${sayDay(date)}, when ${plural(valuesThen, 'value')} of the main result had been recorded: treat it as exploratory. It is made with ${planned}.`;
}

/** Tested factors whose verdict differs between position models. */
export function positionChanges(
  findings: Findings,
): { factor: string; shown: PositionModel[]; notShown: PositionModel[] }[] {
  return findings.design.tested.flatMap((role) => {
    const shown: PositionModel[] = [];
    const notShown: PositionModel[] = [];
    for (const { model, result } of findings.positions) {
      if (!judges(model, role)) continue;
      const p = termOf(result, [role.column])?.p;
      if (p === null || p === undefined) continue;
      (p < findings.alpha ? shown : notShown).push(model);
    }
    return shown.length > 0 && notShown.length > 0
      ? [{ factor: role.factor.name, shown, notShown }]
      : [];
  });
}

export function checkStatements(findings: Findings): Statement[] {
  const parts: string[] = [];
  const { rook, model, result } = findings.primary;
  const before = findings.positions.find((p) => p.model === 'none')?.rook ?? null;
  if (rook) {
    const i = said(rook.i, '', 2);
    const from =
      before && model !== 'none' ? `, ${said(before.i, '', 2)} with no correction for place` : '';
    parts.push(
      rook.p < findings.alpha && rook.i > rook.expected
        ? `neighbouring residuals are positively correlated (Moran's I ${i}${from}, ${saidP(rook.p, findings.alpha)})`
        : rook.p < findings.alpha
          ? `neighbouring residuals are negatively correlated (Moran's I ${i}${from}, ${saidP(rook.p, findings.alpha)})`
          : `no clear pattern is left among the residuals of neighbouring pots (Moran's I ${i}${from}, ${saidP(rook.p, findings.alpha)})`,
    );
  }
  const { dispersion } = result;
  if (findings.scale === 'poisson' && dispersion !== null && dispersion > 1.5) {
    parts.push(
      `the counts vary ${said(dispersion)} times as much as Poisson counts would, so that the figures above look surer than they are`,
    );
  }
  const spreadP = result.checks['brown-forsythe']?.['p'];
  if (typeof spreadP === 'number' && spreadP < findings.alpha) {
    parts.push(
      `the spread differs between treatments (Brown–Forsythe ${saidP(spreadP, findings.alpha)})`,
    );
  }
  return parts.length > 0 ? [{ about: 'check', text: `${capital(parts.join('; '))}.` }] : [];
}

function times(interval: { lower: number; upper: number }, factor: number) {
  return { lower: interval.lower * factor, upper: interval.upper * factor };
}

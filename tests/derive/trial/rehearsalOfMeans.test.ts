import { describe, expect, it } from 'vitest';
import { findingsInputOf } from '../../../renderer/derive';
import { plannedAnalysis, rehearsalInputOf } from '../../../renderer/derive/trial/rehearsal';
import { findingsOf, termOf } from '../../../renderer/engine/findings';
import { siteOf } from '../../../renderer/engine/trial/site/siteOf';
import type { PositionModel } from '../../../shared-types/trial/position';
import type { Scale } from '../../../shared-types/trial/measurement';
import { example } from '../../builders/examplePlans';

/** The basil trial with leaves counted, as many on every pot of one tray and treatment. */
function counted(scale: Scale, primaryPosition: PositionModel = 'none') {
  const basil = example('basil');
  const { primaryOutcomeId } = basil.trial;
  const trial = {
    ...basil.trial,
    primaryPosition,
    startCovariate: false,
    wetDepthCovariate: false,
    primaryIndex: 'final' as const,
    measurements: basil.trial.measurements.map((m) =>
      m.id === primaryOutcomeId ? { ...m, scale } : m,
    ),
  };
  const cells = new Map<string, number>();
  const values = Object.fromEntries(
    (basil.layout?.assignments ?? []).map(({ potId, levels }) => {
      const cell = [potId.split(':')[0], ...Object.values(levels)].join(' ');
      const count = cells.get(cell) ?? 5 + ((cells.size * 7) % 11);
      cells.set(cell, count);
      return [potId, count];
    }),
  );
  const records = { ...basil.records, marks: {}, values: { [primaryOutcomeId ?? '']: values } };
  return { plan: { ...basil, trial, records }, trial, values };
}

function rehearsedP(scale: Scale, position: PositionModel = 'none') {
  const { plan, trial, values } = counted(scale, position);
  const input = rehearsalInputOf(plan);
  if (!input || !plan.layout) throw new Error('basil is a trial');
  const site = siteOf(input);
  const placed = new Map(plan.layout.assignments.map((a) => [a.potId, a.levels]));
  const analysis = plannedAnalysis(input, site);
  const tests = analysis
    .planned({
      alive: new Uint8Array(site.pots.length).fill(1),
      start: new Float64Array(site.pots.length),
      levels: new Map(
        trial.factors.map((factor) => {
          const ids = factor.levels.map((level) => level.id);
          const level = (id: string) => ids.indexOf(placed.get(id)?.[factor.id] ?? '');
          return [factor.id, Int32Array.from(site.pots, (pot) => level(pot.id))];
        }),
      ),
      // What is made up stands on the scale of the analysis: logarithms.
    })
    .tests(Float64Array.from(site.pots, (pot) => Math.log(values[pot.id] ?? NaN)));
  const [first] = trial.factors;
  const p = tests.find(({ factorIds }) => factorIds.join() === first?.id)?.p ?? NaN;
  const { words, placeLeftOut } = analysis.departures();
  return { p, notes: [...words, placeLeftOut.reason], count: tests.length };
}

describe('the rehearsal of counts with a factor on trays', () => {
  it('runs the analysis of the findings, on means', () => {
    const { plan, trial } = counted('poisson');
    const asked = findingsInputOf(plan);
    const found = asked && findingsOf(asked, { primaryOnly: true });
    if (!found?.ok) throw new Error(found?.missing);
    const [factor] = trial.factors;
    const rehearsed = rehearsedP('poisson');
    expect(found.findings.averaged?.units).toEqual(['tray']);
    expect(rehearsed.count).toBe(3);
    expect(rehearsed.p).toBeCloseTo(
      termOf(found.findings.primary.result, [factor?.name ?? ''])?.p ?? NaN,
      10,
    );
    expect(rehearsed.notes).toContain(
      'They are averaged per tray and treatment, as the counts of the findings are.',
    );
  });

  it('leaves the planned allowance for place out, as the findings do', () => {
    const placed = rehearsedP('poisson', 'smooth');
    expect(placed.p).toBe(rehearsedP('poisson').p);
    expect(placed.notes.join(' ')).toContain('a mean has no row or column');
  });

  it('averages nothing where weights are analysed by their logarithms', () => {
    expect(rehearsedP('log').notes.join(' ')).not.toContain('averaged');
  });
});

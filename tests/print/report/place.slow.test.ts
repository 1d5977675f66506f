import { describe, expect, it } from 'vitest';
import { findingsOfPlan } from '../../../renderer/derive';
import type { Findings } from '../../../renderer/engine/findings';
import { edgeFigure, lightFigure, placeDots } from '../../../renderer/print/report';
import type { Plan } from '../../../shared-types/plan';
import { counted } from '../../builders/harvests';
import { radishes } from '../../builders/radishes';
import { smallBasil } from '../../builders/smallBasil';

function findingsOf(plan: Plan): Findings {
  const outcome = findingsOfPlan(plan);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

describe('place within treatments', () => {
  // Heath (1970), Investigation by Experiment, Table 1: edge 9.36 g, inner 5.80 g; recomputed from
  // the table, tests/reference/fit/radish-edge-and-moran/expected.json.
  it('sets the edge of the published radishes 3.56 g above the inside', () => {
    const findings = findingsOf(radishes());
    const dots = placeDots(findings);
    expect(dots).toHaveLength(399);
    const at = (place: string) =>
      mean(dots.filter((dot) => dot.place === place).map(({ beside }) => beside));
    expect(at('edge') - at('inner')).toBeCloseTo(3.56, 2);
    expect(edgeFigure(findings, { width: 400 })?.label).toContain('3.6 g (2.6 to 4.5 g)');
    // There are no lamps over them.
    expect(lightFigure(findings, { width: 400 })).toBeNull();
  });

  it('sets each pot beside its own treatment, so that treatments themselves are level', () => {
    const plan = smallBasil();
    const dots = new Map(placeDots(findingsOf(plan)).map((dot) => [dot.potId, dot.beside]));
    const treatments = new Map<string, number[]>();
    for (const { potId, levels } of plan.layout?.assignments ?? []) {
      const key = JSON.stringify(levels);
      treatments.set(key, [...(treatments.get(key) ?? []), dots.get(potId) ?? NaN]);
    }
    expect(treatments.size).toBe(12);
    for (const beside of treatments.values()) expect(mean(beside)).toBeCloseTo(0, 9);
  });

  it('sets counts beside it as multiples, with the pots linked', () => {
    const findings = findingsOf(counted());
    expect(mean(placeDots(findings).map(({ beside }) => beside))).toBeCloseTo(1, 9);
    const figure = lightFigure(findings, { width: 400, links: true });
    expect(figure?.svg.match(/#pot:/g)).toHaveLength(72);
    expect(figure?.label).toMatch(/a ratio of .* per 10 µmol/);
  });
});

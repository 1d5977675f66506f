import { describe, expect, it } from 'vitest';
import {
  drawFor,
  findingsInputOf,
  findingsOfPlan,
  potLightOf,
  potsOf,
  ppfdByPotOf,
  randomisationInputOf,
} from '../../../renderer/derive';
import { type Findings, paragraph, randomisationTest } from '../../../renderer/engine/findings';
import { dataTable, effectsTable, positionTable, reportHtml } from '../../../renderer/print/report';
import type { Plan } from '../../../shared-types/plan';
import { example } from '../../builders/examplePlans';

const basil = example('basil');

/** 1A and 1B in each other's places for the second of two halves of 28 days. */
const exchanged: Plan = {
  ...basil,
  light: {
    ...basil.light,
    rota: [
      {
        fromDay: 15,
        toDay: 28,
        places: {
          t11: { placeOf: 't12', turned: false },
          t12: { placeOf: 't11', turned: false },
        },
      },
    ],
  },
  trial: { ...basil.trial, startDate: '2026-03-02', harvestDate: '2026-03-30' },
};

function findingsIn(plan: Plan): Findings {
  const outcome = findingsOfPlan(plan);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const potCalled = (code: string) => potsOf(basil).find((pot) => pot.code === code)?.id ?? '';
const drawnAt = (code: string) => potLightOf(basil).pots.get(potCalled(code))?.ppfdUmol ?? NaN;

describe('light as a covariate where a rota moves the trays', () => {
  it('is the mean of both places for two pots that were exchanged halfway', () => {
    const input = findingsInputOf(exchanged);
    const mean = (drawnAt('1A-B2') + drawnAt('1B-B2')) / 2;
    expect(Math.abs(drawnAt('1A-B2') - drawnAt('1B-B2'))).toBeGreaterThan(1);
    for (const code of ['1A-B2', '1B-B2']) {
      expect(input?.ppfdByPot.get(potCalled(code))).toBeCloseTo(mean, 9);
    }
    // 1C stayed where it was drawn.
    expect(input?.ppfdByPot.get(potCalled('1C-B2'))).toBeCloseTo(drawnAt('1C-B2'), 9);
    const { table, pots } = findingsIn(exchanged);
    const row = pots.findIndex((pot) => pot.code === '1A-B2');
    expect(table.columns['light at the pot']?.[row]).toBeCloseTo(mean, 9);
  });

  it('is the light as drawn without a rota, to the same object', () => {
    const input = findingsInputOf(basil);
    expect(input?.ppfdByPot).toBe(ppfdByPotOf(basil));
    expect(input?.lightOverTrial).toBe(false);
    expect(randomisationInputOf(basil)?.ppfdAtDraw).toBe(ppfdByPotOf(basil));
  });

  it('is not known by a rota that does not fit the rack, and then no model uses it', () => {
    const rack = {
      ...basil.rack,
      shelves: basil.rack.shelves.map((shelf) => ({
        ...shelf,
        trays: shelf.trays.map((tray) => (tray.id === 't12' ? { ...tray, widthMm: 370 } : tray)),
      })),
    };
    const findings = findingsIn({ ...exchanged, rack });
    expect(findings.positions.map((p) => p.model)).not.toContain('light');
    expect(findings.refused.find((r) => r.model === 'light')?.reason).toMatch(/not known/);
  });

  it('is called so in statements, tables and report, and only then', () => {
    const said = 'light over the trial with the tray moves';
    const moved = findingsIn(exchanged);
    const still = findingsIn(basil);
    expect(moved.lightOverTrial).toBe(true);
    const texts = (plan: Plan, findings: Findings) => [
      paragraph(findings),
      reportHtml({ title: 'x', plan, findings, notices: [], paper: 'A4' }),
      JSON.stringify(positionTable(findings)),
    ];
    for (const text of texts(exchanged, moved)) {
      expect(text).toContain(said);
      expect(text).not.toContain('light at each pot');
    }
    for (const text of texts(basil, still)) {
      expect(text).not.toContain('over the trial');
      expect(text).toContain('light at each pot');
    }
    const unitOf = (findings: Findings) =>
      dataTable('x', findings, 'metric').columns.find(
        (column) => column.head === 'light at the pot',
      )?.unit;
    expect([unitOf(moved), unitOf(still)]).toEqual(['µmol m⁻² s⁻¹ over the trial', 'µmol m⁻² s⁻¹']);
    expect(JSON.stringify(effectsTable(moved))).toContain('more light over the trial');
  });
});

describe('a randomisation test where a rota moves the trays', () => {
  it('draws under the light as it was at the draw', () => {
    const constraint = { acceptanceShare: 0.2, balance: ['light' as const], likeNeighbours: null };
    const constrained: Plan = { ...basil, trial: { ...basil.trial, constraint } };
    const drawn = drawFor(constrained, 'rota', '2026-03-01T00:00:00Z');
    if (!drawn.ok) throw new Error(drawn.reason);
    const plan: Plan = { ...constrained, layout: drawn.value };
    const asked = {
      measurementId: null,
      index: null,
      factorIds: ['f54'],
      runs: 60,
      seed: 'again',
    };
    const redrawn = (of: Plan) => {
      const input = randomisationInputOf(of);
      if (!input) throw new Error('a trial');
      return randomisationTest(input, asked);
    };
    const { rota } = exchanged.light;
    const moved = redrawn({ ...plan, light: { ...plan.light, ...(rota ? { rota } : {}) } });
    // The statistic leaves position out, so that light enters by the constraint alone.
    expect(moved).toEqual(redrawn(plan));
    expect(moved.method).toContain('the same balance');
  });
});

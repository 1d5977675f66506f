import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findingsInputOf, findingsOfPlan, wetDepthByPotOf } from '../../../renderer/derive';
import { readPlan } from '../../../renderer/document/open';
import {
  findingsOf,
  paragraph,
  termOf,
  type FindingsInput,
  type Findings,
} from '../../../renderer/engine/findings';
import { fit } from '../../../renderer/engine/stats/fit';
import { fitRequestSchema } from '../../../shared-types/fit';
import type { Plan } from '../../../shared-types/plan';
import type { Trial } from '../../../shared-types/trial/trial';

const url = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok) throw new Error('the demo opens');
const basil = read.plan;
const demo = findingsInputOf(basil);
if (!demo) throw new Error('the demo has a trial');

function findings(input: FindingsInput): Findings {
  const outcome = findingsOf(input, { primaryOnly: true });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const withTrial = (change: Partial<Trial>): FindingsInput => ({
  ...demo,
  trial: { ...demo.trial, ...change },
});

describe('the rule in words', () => {
  it('tells when it was fixed, and the model that it makes the one', () => {
    expect(paragraph(findings(demo))).toContain(
      'You locked this analysis on 2026-03-02, before any value of the main result: it gives the ' +
        'result, with the light at each pot.',
    );
  });

  it('tells when values had been recorded by then, and when nobody fixed it', () => {
    const late = withTrial({ analysisLocked: { date: '2026-04-07', valuesThen: 211 } });
    expect(paragraph(findings(late))).toContain(
      'locked this analysis on 2026-04-07, when 211 values of the main result had been recorded: treat it as exploratory',
    );
    const unfixed = { ...demo.trial };
    delete unfixed.analysisLocked;
    expect(paragraph(findings({ ...demo, trial: unfixed }))).toContain(
      'This analysis was not locked before the results: treat it as exploratory.',
    );
  });

  it('calls only those comparisons planned that were fixed before the first value', () => {
    const contrast = {
      name: 'strong over weak',
      weights: [
        { levelId: 'v53', weight: 1 },
        { levelId: 'v51', weight: -1 },
      ],
    };
    const planned = (fixed: boolean, valuesThen: number) =>
      paragraph(
        findings(
          withTrial({
            analysisLocked: { date: '2026-03-02', valuesThen },
            factors: demo.trial.factors.map((factor) =>
              factor.id === 'f50'
                ? {
                    ...factor,
                    contrasts: [{ ...contrast, ...(fixed ? { preSpecified: true } : {}) }],
                  }
                : factor,
            ),
          }),
        ),
      );
    expect(planned(true, 0)).toContain('The planned comparison strong over weak of feed is');
    for (const text of [planned(false, 0), planned(true, 9)]) {
      expect(text).toContain('The comparison strong over weak of feed is');
      expect(text).toContain('It was not fixed in the plan before harvest.');
    }
  });
});

describe('the depth of water as a covariate', () => {
  const { flood } = basil;
  const tray = basil.rack.shelves[0]?.trays[0];
  if (!flood || !tray || !basil.trial) throw new Error('the demo floods its trays');
  const tilted: Plan = {
    ...basil,
    flood: {
      ...flood,
      slopes: [{ trayId: tray.id, rightMmPerM: 12, backMmPerM: 6, drainAt: 'lowest' }],
    },
    trial: { ...basil.trial, wetDepthCovariate: true },
  };

  it('enters the model with the depth at each pot, as a fit of the same table has it', () => {
    const depths = wetDepthByPotOf(tilted);
    const input = findingsInputOf(tilted);
    if (!input) throw new Error('the plan has a trial');
    expect(new Set([...depths.values()].map((v) => v.toFixed(2))).size).toBeGreaterThan(5);
    const found = findings(input);
    expect(found.design.covariates).toEqual(['starting value', 'depth of water']);
    expect(termOf(found.primary.result, ['depth of water'])?.df).toBe(1);
    expect(found.table.columns['depth of water']?.[0]).toBe(depths.get(found.pots[0]?.id ?? ''));
    const again = fit(fitRequestSchema.parse(found.primary.request), found.table);
    // Factors on whole trays are judged by trays, in a fit of their own.
    const ofPots = (terms: typeof again.terms) => terms.filter((t) => t.stratum === 'residual');
    expect(ofPots(again.terms).map((t) => t.term)).toContain('depth of water');
    expect(ofPots(again.terms)).toEqual(ofPots(found.primary.result.terms));
  });

  it('is left out, and said to be, where all pots stand in the same depth', () => {
    const same = new Map([...wetDepthByPotOf(tilted).keys()].map((id) => [id, 30]));
    const found = findings({ ...withTrial({ wetDepthCovariate: true }), wetDepthByPot: same });
    expect(found.design.covariates).toEqual(['starting value']);
    expect(paragraph(found)).toContain(
      'The plan asks to allow for the depth of water at each pot, which is the same everywhere and so was left out.',
    );
    const unknown = findings(withTrial({ wetDepthCovariate: true }));
    expect(paragraph(unknown)).toContain('which is not known and so was left out');
  });

  it('leaves out pots whose depth is not known, by name', () => {
    const depths = new Map(wetDepthByPotOf(tilted));
    const [gone = ''] = depths.keys();
    depths.delete(gone);
    const found = findings({ ...withTrial({ wetDepthCovariate: true }), wetDepthByPot: depths });
    expect(found.leftOut.filter(({ why }) => why === 'no-depth').map(({ pot }) => pot.id)).toEqual([
      gone,
    ]);
    expect(paragraph(found)).toContain('1 without a known depth of water');
  });

  it('is asked for in the plan alone', () => {
    const outcome = findingsOfPlan({ ...tilted, trial: basil.trial });
    expect(outcome.ok && outcome.findings.design.covariates).toEqual(['starting value']);
  });
});

describe('logarithms', () => {
  const measurements = demo.trial.measurements.map((m) =>
    m.id === 'm62' ? { ...m, scale: 'log' as const } : m,
  );
  const found = findings(withTrial({ measurements }));

  it('give ratios, whose interval is that of the logarithms taken back', () => {
    const row = found.primary.result.comparisons[0]?.rows.find(
      ({ a, b }) => a.startsWith('strong') && b.startsWith('weak'),
    );
    if (!row) throw new Error('strong and weak are compared');
    const times = (value: number) => Math.exp(value).toFixed(2);
    expect(paragraph(found)).toContain(
      `strong (2.2 mS/cm) over weak (1.0 mS/cm), is a ratio of ${times(row.difference)} (95 % interval ${times(row.lower)} to ${times(row.upper)})`,
    );
    expect(paragraph(found)).toContain('was analysed as logarithms');
  });
});

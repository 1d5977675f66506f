import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findingsInputOf, randomisationInputOf } from '../../../renderer/derive';
import { readPlan } from '../../../renderer/document/open';
import {
  findingsOf,
  mainComparison,
  paragraphs,
  randomisationSentence,
  randomisationTest,
  statements,
  termOf,
  type FindingsInput,
  type Findings,
  type RandomisationFound,
} from '../../../renderer/engine/findings';
import { stream } from '../../../renderer/engine/trial';

// What may be said is fixed here by hand; the figures themselves are checked elsewhere.

const url = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
const read = readPlan(readFileSync(url, 'utf8'));
if (!read.ok) throw new Error('the demo opens');
const demo = findingsInputOf(read.plan);
if (!demo) throw new Error('the demo has a trial');

function findings(input: FindingsInput): Findings {
  const outcome = findingsOf(input, { primaryOnly: true });
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

/** The same rack and layout with weights that nothing but chance has made. */
function chance(input: FindingsInput, seed: string): FindingsInput {
  const random = stream(seed, 'weights');
  const ids = Object.keys(input.records.values['m62'] ?? {});
  const m62 = Object.fromEntries(ids.map((id) => [id, 45 + 5 * random.normal()]));
  return { ...input, records: { ...input.records, values: { ...input.records.values, m62 } } };
}

const OVERSTATED =
  /no effect|no difference|does not matter|makes? no|had no|has no influence|proves?\b(?! that)|(means|levels|treatments) are (equal|the same)\b|is equal to/i;

describe('sentences where nothing but chance is at work', () => {
  const trials = Array.from({ length: 8 }, (_, i) => findings(chance(demo, `seed ${i}`)));

  it('never say that there is no effect', () => {
    for (const found of trials) expect(paragraphs(found).join(' ')).not.toMatch(OVERSTATED);
  });

  it('say which differences the intervals still allow, and no smaller ones', () => {
    let checked = 0;
    for (const found of trials) {
      for (const role of found.design.tested) {
        const term = termOf(found.primary.result, [role.column]);
        if (!term?.p || term.p < found.alpha) continue;
        const text = statements(found).find((s) => s.of === role.factor.name)?.text ?? '';
        expect(text).toMatch(/is not shown/);
        const said = Number(/as large as ([0-9.]+) g/.exec(text)?.[1]);
        const rows = mainComparison(found.primary.result, role)?.rows ?? [];
        const ends = rows.flatMap((row) => [Math.abs(row.lower), Math.abs(row.upper)]);
        expect(said / Math.max(...ends)).toBeCloseTo(1, 2);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(8);
  });

  it('say that a difference was made only where p is below the alpha of the plan', () => {
    for (const found of [...trials, findings(demo)]) {
      for (const role of found.design.tested) {
        const p = termOf(found.primary.result, [role.column])?.p ?? 1;
        const text = statements(found).find((s) => s.of === role.factor.name)?.text ?? '';
        expect(/made a difference/.test(text)).toBe(p < found.alpha);
      }
    }
  });
});

describe('causal words', () => {
  it('are kept from factors that nobody assigned', () => {
    const factors = demo.trial.factors.map((f) =>
      f.name === 'cultivar' ? { ...f, kind: 'fixed' as const } : f,
    );
    const found = findings({ ...demo, trial: { ...demo.trial, factors } });
    const text = statements(found).find((s) => s.of === 'cultivar')?.text ?? '';
    expect(text).toMatch(/^Cultivar goes with a difference/);
  });
});

describe('a model that could not be fitted', () => {
  it('is named, with the model that was used in its place', () => {
    const outcome = findingsOf({
      ...demo,
      ppfdByPot: new Map([...demo.ppfdByPot.keys()].map((id) => [id, 200])),
    });
    if (!outcome.ok) throw new Error(outcome.missing);
    expect(outcome.findings.primary.model).toBe('none');
    const words = paragraphs(outcome.findings).join(' ');
    expect(words).toContain('could not be fitted (the light is the same for every measured pot');
    expect(words).toContain('what is said here is with no correction for place');
  });
});

describe('pots set aside', () => {
  it('are named as such and leave the records alone', () => {
    const before = JSON.stringify(demo.records);
    const outcome = findingsOf(demo, { setAside: ['t22:3:2'], primaryOnly: true });
    if (!outcome.ok) throw new Error(outcome.missing);
    const { result } = outcome.findings.primary;
    expect(result.n).toBe(findings(demo).primary.result.n - 1);
    expect(paragraphs(outcome.findings)[0]).toContain('1 set aside here');
    expect(JSON.stringify(demo.records)).toBe(before);
  });
});

describe('a randomisation test', () => {
  it('takes in the likeness of neighbours where the plan allows for it and pots were drawn', () => {
    if (!read.ok) throw new Error('the demo opens');
    const input = randomisationInputOf(read.plan);
    if (!input) throw new Error('the demo has a trial');
    const idOf = (name: string) => input.trial.factors.find((f) => f.name === name)?.id ?? '';
    const observed = (name: string, primaryPosition: 'none' | 'ar1') => {
      const trial = { ...input.trial, primaryPosition };
      const asked = { measurementId: null, index: null, runs: 5, seed: 'a' };
      return randomisationTest({ ...input, trial }, { ...asked, factorIds: [idOf(name)] }).observed;
    };
    const cultivar = observed('cultivar', 'ar1') / observed('cultivar', 'none');
    expect(Math.abs(cultivar - 1)).toBeGreaterThan(0.001);
    // Place within trays says nothing about what was drawn over them.
    expect(observed('feed', 'ar1')).toBe(observed('feed', 'none'));
  });
});

describe('a randomisation test in words', () => {
  const found: RandomisationFound = {
    term: 'feed',
    moved: ['feed'],
    unit: 'tray',
    runs: 216,
    asExtreme: 60,
    p: 60 / 216,
    exact: true,
    // Three feeds in three blocks: any of the 3! ways of naming them gives the same F.
    leastP: 6 / 216,
    observed: 1.5,
    sample: [],
    method: 'All 216 layouts that the draw could have given were listed.',
    approximate: null,
    answers: false,
  };

  it('does not take a large p for a proof', () => {
    const text = randomisationSentence(found, 0.05);
    expect(text).toContain('60 of all 216 possible layouts');
    expect(text).toContain('that is no proof that feed does nothing');
  });

  it('names the fewest layouts that the design can give, and whether that is enough', () => {
    expect(randomisationSentence(found, 0.05)).toContain(
      '6 of 216 possible layouts is the fewest that this design can give (p = 0.028).',
    );
    expect(randomisationSentence(found, 0.01)).toContain(
      'so that this test can never show a difference.',
    );
    expect(randomisationSentence({ ...found, exact: false }, 0.01)).not.toContain('fewest');
  });

  it('says whether the model agrees, and why not', () => {
    expect(randomisationSentence(found, 0.05, 0.3)).toContain(
      'The planned analysis agrees: a difference is not shown (p = 0.300).',
    );
    expect(randomisationSentence(found, 0.05, 0.02)).toContain(
      'disagrees: a difference is shown (p = 0.020). It rests on normal errors',
    );
    expect(randomisationSentence(found, 0.01, 0.002)).toContain('Too few layouts are possible');
    const both = randomisationSentence({ ...found, asExtreme: 6, p: 6 / 216 }, 0.05, 0.02);
    expect(both).toContain('agrees: a difference is shown');
    expect(randomisationSentence(found, 0.05)).not.toContain('The planned analysis');
  });

  it('names the labels that moved together', () => {
    const text = randomisationSentence({ ...found, moved: ['feed', 'medium'], p: 0.004 }, 0.05);
    expect(text).toContain('seldom give (p = 0.004)');
    expect(text).toContain('The labels of feed and medium moved together.');
  });
});

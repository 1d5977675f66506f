import { describe, expect, it } from 'vitest';
import { quickStart } from '../../renderer/document/commands';
import { emptyPlan } from '../../renderer/document/new';
import {
  drawablePart,
  firstAnswers,
  firstAnswersIn,
  problemsOf,
  readQuestion,
  usualLamps,
} from '../../renderer/document/quickStart';
import {
  drawRuns,
  noticesOf,
  potLightOf,
  questionsOf,
  quickFiguresOf,
  schemeMisfitsOf,
} from '../../renderer/derive';
import type { QuickAnswers } from '../../shared-types/window/quickStart';
import { refusal, run } from '../builders/run';

const empty = emptyPlan('Untitled trial');
const fourShelves: QuickAnswers = {
  ...firstAnswers,
  shelves: 4,
  columns: 9,
  rows: 9,
  potMm: 60,
  factors: readQuestion('two lights, three media, two kinds of plant').factors,
};
const made = (answers: QuickAnswers) => run(empty, quickStart, answers);

describe('a plan made of a few answers', () => {
  const plan = made(fourShelves);

  it('has the pots, the pitch and the light that the page tells', () => {
    const { light, ...rest } = quickFiguresOf(plan);
    // 1150 mm over 9 columns, 550 mm over 9 rows, to the tenth below.
    expect(rest).toEqual({ pots: 324, shelves: 4, pitchMm: { x: 127.7, y: 61.1 } });
    const [first] = plan.rack.shelves;
    const whole = potLightOf(plan).shelves.get(first?.id ?? '')?.evenness;
    expect(light?.meanUmol).toBeCloseTo(whole?.mean ?? 0, 6);
    expect(light?.darkestShare).toBeCloseTo(whole?.minToMean ?? 0, 6);
  });

  it('lays light on shelves and all else on pots, in a split plot that can be drawn', () => {
    expect(plan.trial).toMatchObject({
      scheme: 'split-plot',
      factors: [
        { name: 'light', unit: 'shelf', appliedThrough: 'light' },
        { name: 'medium', unit: 'pot', appliedThrough: 'medium' },
        { name: 'kind', unit: 'pot', appliedThrough: 'plant' },
      ],
    });
    const questions = questionsOf(plan);
    expect(questions.ok && questions.value.map(({ grade }) => grade)).toEqual([
      'weak',
      'strong',
      'strong',
    ]);
    expect(noticesOf(plan).filter(({ severity }) => severity === 'stop')).toEqual([]);
    const drawn = drawRuns(plan, 'four shelves', '2026-03-01T00:00:00Z');
    expect(drawn.ok && drawn.value.layout.assignments.length).toBe(324);
  });

  it('is the same plan for the same answers, and takes the place of what was asked before', () => {
    expect(made(fourShelves)).toEqual(plan);
    const again = run(plan, quickStart, { ...fourShelves, shelves: 2, factors: [] });
    expect(again.rack.shelves).toHaveLength(2);
    expect(again.trial?.factors).toEqual([]);
  });
});

describe('whatever is compared', () => {
  const asked: [string, Partial<QuickAnswers>][] = [
    ['nothing', {}],
    ['three media', {}],
    ['two lights', {}],
    ['two lights, two feeds', { shelves: 4 }],
    ['two lights, two feeds, three media', { shelves: 8 }],
    ['two feeds', { vessels: 2, shelves: 4 }],
    ['five species by two light spectra', { shelves: 4, vessel: 'tub' }],
    ['six cultivars', { shelves: 1, vessels: 2, columns: 2, rows: 2, potMm: 200 }],
  ];
  it.each(asked)('%s is planned in a scheme that fits, and drawn', (sentence, more) => {
    const { factors } = readQuestion(sentence);
    const plan = made({ ...firstAnswers, columns: 4, rows: 3, lamps: 1, ...more, factors });
    expect(schemeMisfitsOf(plan)).toEqual([]);
    if (factors.length > 0) {
      expect(drawRuns(plan, 'seed', '2026-03-01T00:00:00Z')).toMatchObject({ ok: true });
    }
  });

  it.each(['tray', 'shelf', 'zone'] as const)('feeds on each %s have reservoirs', (unit) => {
    const factors = readQuestion('two feeds').factors.map((factor) => ({ ...factor, unit }));
    const plan = made({ ...firstAnswers, shelves: 4, vessels: 2, columns: 5, lamps: 1, factors });
    expect(plan.flood?.zones).toHaveLength({ tray: 8, shelf: 4, zone: 2 }[unit]);
    expect(schemeMisfitsOf(plan)).toEqual([]);
    const questions = questionsOf(plan);
    expect(questions.ok && questions.value[0]?.grade === 'cannot').toBe(unit === 'zone');
  });
});

it('begins with answers that fit, in metric and in imperial figures', () => {
  for (const system of ['metric', 'imperial'] as const) {
    expect(problemsOf(firstAnswersIn(system), system)).toEqual([]);
  }
});

describe('answers that do not go together', () => {
  const problem = (more: Partial<QuickAnswers>) => problemsOf({ ...firstAnswers, ...more })[0];

  it('names the pitch, how many pots fit, and the pot that would', () => {
    expect(problem({ columns: 9, rows: 9 })).toEqual({
      field: 'pots',
      text: '9 × 9 pots of 100 mm need 900 mm × 900 mm; the tray is 1150 mm × 550 mm. Touching, 100 mm apart, 9 × 5 fit.',
      ways: [
        { says: 'Fit to tray: 9 × 5', answers: { columns: 9, rows: 5 } },
        { says: 'Pots of 61 mm', answers: { potMm: 61 } },
      ],
    });
    // Each way out is one, and the narrow miss beside it is none.
    expect(problem({ columns: 9, rows: 5 })).toBeUndefined();
    expect(problem({ columns: 9, rows: 9, potMm: 61 })).toBeUndefined();
    expect(problem({ columns: 9, rows: 9, potMm: 62 })?.field).toBe('pots');
  });

  it('finds lamps, trays, pots and levels that cannot be', () => {
    expect(problem({ widthMm: 1149 })?.field).toBe('lamps');
    expect(problem({ widthMm: 1150, columns: 8 })).toBeUndefined();
    const [, , panel] = usualLamps;
    if (panel) expect(problem({ lamp: panel, lamps: 20 })?.text).toContain('cover each other');
    expect(problem({ widthMm: 200, vessels: 8 })?.field).toBe('vessels');
    expect(problem({ potMm: 500, columns: 1, rows: 1, clearanceMm: 450 })?.field).toBe('clearance');
    expect(problem({ lamps: 0 })).toBeUndefined();
    const light = { name: 'light', through: 'light', unit: 'shelf' } as const;
    expect(problem({ factors: [{ ...light, levels: ['bright'] }] })?.text).toContain('two levels');
    expect(problem({ factors: [{ ...light, levels: ['dim', 'Dim'] }] })?.text).toBe(
      'light has Dim twice.',
    );
    expect(problem({ main: 'leaves' })?.field).toBe('measured');
  });

  it('are refused as a plan, and drawn as far as they go', () => {
    const wide = { ...firstAnswers, columns: 9, rows: 9 };
    expect(refusal(empty, quickStart, wide)).toContain('9 × 5 fit');
    expect(refusal(empty, quickStart, { ...firstAnswers, shelves: 1e12 })).toContain('shelves');
    expect(drawablePart(wide)).toMatchObject({ columns: 9, rows: 5 });
    expect(drawablePart({ ...firstAnswers, potMm: 900 })).toBeNull();
  });
});

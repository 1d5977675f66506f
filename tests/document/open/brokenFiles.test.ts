import { describe, expect, it } from 'vitest';
import { readPlan, sayProblem, writePlan } from '../../../renderer/document/open';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';
import { PLAN_VERSION } from '../../../shared-types/plan';

/** The sample as loose JSON, to be damaged one way at a time. */
type Loose = Record<string, never> & { [name: string]: Loose };

function damaged(damage: (raw: Loose) => void, plan = samplePlan()): string {
  const raw = JSON.parse(writePlan(plan)) as Loose;
  damage(raw);
  return JSON.stringify(raw);
}

const set = (path: (string | number)[], value: unknown) => (raw: Loose) => {
  let at: unknown = raw;
  for (const part of path.slice(0, -1)) at = (at as Record<string | number, unknown>)[part];
  (at as Record<string | number, unknown>)[path.at(-1) ?? ''] = value;
};

const sample = writePlan(samplePlan());
const first = ['rack', 'shelves', 0];

const cases: [name: string, text: string, message: string][] = [
  ['an empty file', '', 'The file is empty; a saved plan is expected.'],
  ['only spaces', ' \n\t ', 'The file is empty; a saved plan is expected.'],
  [
    'a file cut short',
    sample.slice(0, 60),
    'The file breaks off being readable at line 4, column 12: found "\\"", expected a value.',
  ],
  [
    'a missing comma',
    '{\n  "format": "evenrack-plan"\n  "version": 1\n}',
    'The file breaks off being readable at line 3, column 3: found "\\"", expected a comma or }.',
  ],
  [
    'NaN for a number',
    sample.replace('"nextId": 10', '"nextId": NaN'),
    'The file breaks off being readable at line 9, column 13: found "NaN", expected a value.',
  ],
  [
    'a second document after the first',
    '{}\n{}',
    'The file breaks off being readable at line 2, column 1: found "{", expected the end of the file.',
  ],
  ['a list', '[1, 2]', 'The file is not an Evenrack plan: it holds a list of 2.'],
  ['a bare number', '3', 'The file is not an Evenrack plan: it holds 3.'],
  [
    'JSON of something else',
    '{"name": "x"}',
    'The file is not an Evenrack plan: it has no format name, where "evenrack-plan" is expected.',
  ],
  [
    'another format',
    damaged(set(['format'], 'shopping-list')),
    'The file is not an Evenrack plan: its format is "shopping-list", where "evenrack-plan" is expected.',
  ],
  [
    'a later version',
    damaged(set(['version'], 7)),
    `The plan was saved by a newer Evenrack (format 7); this one reads formats up to ${PLAN_VERSION}.`,
  ],
  [
    'a version in words',
    damaged(set(['version'], 'one')),
    `version: found "one", expected a whole number from 1 to ${PLAN_VERSION}.`,
  ],
  [
    'a version before the first',
    damaged(set(['version'], 0)),
    `version: found 0, expected a whole number from 1 to ${PLAN_VERSION}.`,
  ],
  [
    'a negative width',
    damaged(set([...first, 'trays', 0, 'widthMm'], -3)),
    'rack.shelves[0].trays[0].widthMm: found -3, expected a number above 0.',
  ],
  [
    'text for a number',
    damaged(set([...first, 'widthMm'], '1200')),
    'rack.shelves[0].widthMm: found "1200", expected a number.',
  ],
  [
    'a number too great to be one',
    sample.replace('"widthMm": 1200', '"widthMm": 1e999'),
    'rack.shelves[0].widthMm: found a number that is not finite, expected a number.',
  ],
  [
    'half a row of pots',
    damaged(set([...first, 'trays', 0, 'grid', 'rows'], 2.5)),
    'rack.shelves[0].trays[0].grid.rows: found 2.5, expected a whole number.',
  ],
  [
    'a missing part',
    damaged((raw) => Reflect.deleteProperty(Object(raw['runs']?.[0]), 'records')),
    'runs[0].records: found nothing, expected a group of values.',
  ],
  [
    'an unknown name',
    damaged(set(['colour'], 'green')),
    'the plan: found the unknown name "colour", expected only names that the format knows.',
  ],
  [
    'a word that is not on offer',
    damaged(set(['display', 'lengths'], 'furlongs')),
    'display.lengths: found "furlongs", expected one of "metric", "imperial".',
  ],
  [
    'an unknown way of shining',
    damaged(set(['rack', 'lampKinds', 0, 'emission'], { kind: 'laser' })),
    'rack.lampKinds[0].emission.kind: found "laser", expected one of "lambertian", "beam", "file".',
  ],
  [
    'a date that is none',
    damaged(set(['runs', 0, 'startDate'], '31.2.2026')),
    'runs[0].startDate: found "31.2.2026", expected a date such as 2026-03-31.',
  ],
  [
    'an empty title',
    damaged(set(['title'], '  ')),
    'title: found "  ", expected at least 1 character.',
  ],
  [
    'a value for something that is no pot',
    damaged(set(['runs', 0, 'records', 'values'], { m1: { 'first pot': 2 } })),
    'runs[0].records.values.m1: found the name "first pot", expected a pot id such as t1:2:3.',
  ],
  [
    'a weight in words',
    damaged(set(['runs', 0, 'records', 'values'], { m1: { 't1:1:1': 'heavy' } })),
    'runs[0].records.values.m1["t1:1:1"]: found "heavy", expected a number.',
  ],
  [
    'several wrong places',
    damaged((raw) => {
      set([...first, 'widthMm'], 0)(raw);
      set([...first, 'depthMm'], null)(raw);
      set([...first, 'heightMm'], 99_999)(raw);
    }),
    'rack.shelves[0].widthMm: found 0, expected a number above 0 (and 2 more places).',
  ],
  [
    'a forbidden name',
    sample.replace('"values": {}', '"values": {"__proto__": {"t1:1:1": 2}}'),
    'runs[0].records.values: found the forbidden name "__proto__", expected only names that the format knows.',
  ],
  [
    'brackets without end',
    sample.replace('"notes": ""', `"notes": ${'['.repeat(100_000)}${']'.repeat(100_000)}`),
    'notes[0][0][0]: found more than 32 levels of brackets, expected no more than a plan has.',
  ],
  [
    'an id used twice',
    damaged(set(['rack', 'shelves', 1, 'trays', 0, 'id'], 't1')),
    'rack.shelves[1].trays[0].id: found "t1", the id of rack.shelves[0].trays[0], expected an id of its own.',
  ],
  [
    'a counter that would give ids out again',
    damaged(set(['nextId'], 2)),
    'nextId: found 2, expected at least 5, above every number in use.',
  ],
  [
    'a lamp of no kind',
    damaged(set([...first, 'lamps', 0, 'kindId'], 'k7')),
    'rack.shelves[0].lamps[0].kindId: found "k7", expected the id of one of rack.lampKinds.',
  ],
  [
    'more pots than any room holds',
    damaged((raw) => {
      for (const shelf of [0, 1]) {
        set(['rack', 'shelves', shelf, 'trays', 0, 'grid', 'rows'], 200)(raw);
        set(['rack', 'shelves', shelf, 'trays', 0, 'grid', 'columns'], 200)(raw);
      }
    }),
    'rack.shelves: found 80000 holes for pots, expected at most 60000.',
  ],
  [
    'a guard pot outside the grid',
    damaged(set([...first, 'trays', 0, 'grid', 'guards'], ['3:1'])),
    'rack.shelves[0].trays[0].grid.guards[0]: found "3:1", expected a hole of the 2 × 3 grid.',
  ],
  [
    'a reading in lux without its conversion',
    damaged(
      set(
        ['light', 'readings'],
        [
          {
            id: 'r9',
            shelfId: 's1',
            xMm: 1,
            yMm: 1,
            zMm: 1,
            value: 9000,
            unit: 'lux',
            luxPerPpfd: null,
            date: null,
            note: '',
          },
        ],
      ),
    ),
    'light.readings[0].luxPerPpfd: found null, expected a number, because the reading is in lux.',
  ],
  [
    'a given factor at a level it does not have',
    damaged(set(['trial', 'factors', 0, 'where'], [{ unitId: 's1', levelId: 'v9' }])),
    `trial.factors[0].where[0].levelId: found "v9", expected the id of one of the factor's levels.`,
  ],
  [
    'a factor placed on the wrong kind of unit',
    damaged(set(['trial', 'factors', 0, 'where'], [{ unitId: 't1', levelId: 'v1' }])),
    'trial.factors[0].where[0].unitId: found "t1", expected the id of a shelf in the plan, because the factor is applied to a shelf.',
  ],
  [
    'settings of what the factor is not applied through',
    damaged((plan) => {
      set(['trial', 'factors', 0, 'appliedThrough'], 'light')(plan);
      set(['trial', 'factors', 0, 'levels', 0, 'settings'], { through: 'hand' })(plan);
    }),
    'trial.factors[0].levels[0].settings.through: found "hand", expected "light", what the factor is applied through.',
  ],
  [
    'two factors of one name',
    damaged(set(['trial', 'factors', 1, 'name'], 'Light')),
    'trial.factors[1].name: found "Light", expected a name that no other factor has.',
  ],
  [
    'a range upside down',
    damaged(set(['trial', 'measurements', 0, 'highest'], -5)),
    'trial.measurements[0].highest: found -5, expected at least the lowest, 0.',
  ],
  [
    'a question answered by no measurement',
    damaged(set(['trial', 'primaryOutcomeId'], 'm8')),
    'trial.primaryOutcomeId: found "m8", expected the id of one of trial.measurements, or null.',
  ],
  [
    'values of no measurement',
    damaged(set(['runs', 0, 'records', 'values'], { m8: { 't1:1:1': 2 } })),
    'runs[0].records.values: found values of the measurement "m8", expected only measurements of the trial.',
  ],
  [
    'the tare of no measurement',
    damaged(set(['runs', 0, 'records', 'tare'], { m8: 2.5 })),
    'runs[0].records.tare: found the tare of the measurement "m8", expected only measurements of the trial.',
  ],
  [
    'days of no measurement',
    damaged(set(['runs', 0, 'records', 'days'], { m8: { 't1:1:1': '2026-04-30' } })),
    'runs[0].records.days: found days of the measurement "m8", expected only measurements of the trial.',
  ],
  [
    'a layout with a level of no factor',
    damaged(set(['runs', 0, 'layout', 'assignments', 0, 'levels'], { f9: 'v1' }), drawnPlan()),
    'runs[0].layout.assignments[0].levels: found a level of the factor "f9", expected only factors of the trial.',
  ],
  [
    'a pot drawn twice',
    damaged(set(['runs', 0, 'layout', 'assignments', 1, 'potId'], 't1:1:1'), drawnPlan()),
    'runs[0].layout.assignments[1].potId: found "t1:1:1" once more, expected every pot once.',
  ],
  [
    'a planted pot without a hole',
    damaged(
      set(['runs', 0, 'layout', 'assignments', 5, 'potId'], 't1:9:9'),
      drawnPlan('2026-03-02'),
    ),
    'runs[0].layout.assignments[5].potId: found "t1:9:9", expected a pot of the rack, because it is planted.',
  ],
];

describe('a file that is no sound plan is refused with place, found and expected', () => {
  it.each(cases)('%s', (_name, text, message) => {
    const read = readPlan(text);
    expect(read.ok ? 'opened' : sayProblem(read.problem)).toBe(message);
  });

  it.each([
    ['text of many megabytes', `{"a":"${'x'.repeat(2e7)}",}`],
    ['text that never ends', `{"a":"${'x'.repeat(2e7)}`],
    ['line breaks without number', `{"a":"${'\\n'.repeat(1e7)}",}`],
    ['brackets without number', '['.repeat(1e6 - 1)],
  ])('survives %s', (_name, text) => {
    const read = readPlan(text);
    expect(read.ok || read.problem.kind).toBe('notJson');
  });

  it('refuses a file far greater than any plan', () => {
    const read = readPlan(' '.repeat(50 * 1024 * 1024 + 1));
    expect(read.ok ? 'opened' : sayProblem(read.problem)).toBe(
      'The file has 51 MB; a plan has at most 50 MB.',
    );
  });
});

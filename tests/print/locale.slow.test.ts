import { afterEach, describe, expect, it } from 'vitest';
import { findingsOfPlan, noticesOf } from '../../renderer/derive';
import { renameLevel, renamePlan, setLengthDisplay } from '../../renderer/document/commands';
import { defaultOptions, printableNames, printed } from '../../renderer/print';
import { reportFiles, reportHtml } from '../../renderer/print/report';
import { speakAs, STANDARD } from '../../renderer/words';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
import { smallBasil } from '../builders/smallBasil';
import { floodPairs } from '../engine/flood/pairs';
import { rackPairs } from '../engine/geometry/pairs';

afterEach(() => speakAs(STANDARD));

/** The small basil trial, in inches, without a number in any name that a person gave. */
function imperialPlan(): Plan {
  const plan = smallBasil();
  const levels = plan.trial.factors.flatMap(({ id, levels: own }) =>
    own.map((level) => ({ factorId: id, levelId: level.id, name: `level ${level.id}` })),
  );
  const renamed = levels.reduce<Plan>((so, args) => run(so, renameLevel, args), plan);
  const named = run(renamed, renamePlan, { title: 'Basil' });
  const inches = run(named, setLengthDisplay, { lengths: 'imperial' });
  const flood = inches.flood && {
    ...inches.flood,
    media: inches.flood.media.map((medium, i) => ({ ...medium, name: `medium ${i}` })),
    solutions: [],
  };
  return {
    ...inches,
    flood,
    rack: {
      ...inches.rack,
      lampKinds: inches.rack.lampKinds.map((kind, i) => ({ ...kind, name: `lamp ${i}` })),
    },
  };
}

/** What is read on a page: no styles, no files that hang on it. */
const wordsOf = (html: string): string[] =>
  html
    .replace(/<(style|script)[\s\S]*?<\/\1>/g, ' ')
    .replace(/<[^>]*>/g, '\n')
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);

const found = (lines: readonly string[], what: RegExp) => [
  ...new Set(lines.filter((line) => what.test(line))),
];

const POINT = /[0-9]\.[0-9]/;
const DAY_BY_NUMBERS = /[0-9]{4}-[0-9]{2}-[0-9]{2}/;
const METRIC = /\b(?:mm|kg|L\/min)\b|°C|[0-9] (?:cm|L|m)\b/;

describe('a person with a decimal comma, days by month and inches', () => {
  it('reads no point, no day by numbers and no millimetre on any page or in the report', () => {
    speakAs({ decimal: ',', days: 'day-first', weekStart: 'monday' });
    const plan = imperialPlan();
    const outcome = findingsOfPlan(plan);
    if (!outcome.ok) throw new Error(outcome.missing);
    const notices = noticesOf(plan, outcome);
    const of = { title: plan.title, plan, findings: outcome.findings };
    const pages = printableNames.flatMap(({ name }) =>
      wordsOf(printed(plan, name, defaultOptions('Letter'))?.html ?? ''),
    );
    const report = wordsOf(reportHtml({ ...of, notices, paper: 'Letter' }));
    const lines = [...pages, ...report, ...notices.flatMap(({ text, remedy }) => [text, remedy])];
    expect(lines.length).toBeGreaterThan(2000);
    const unversioned = lines.filter(
      (line) => !/(?:Evenrack|version) [0-9.]+$/.test(line.replace(/\.$/, '')),
    );
    expect(found(unversioned, POINT)).toEqual([]);
    expect(found(lines, DAY_BY_NUMBERS)).toEqual([]);
    expect(found(lines, METRIC)).toEqual([]);
    // What machines read says none of it so.
    const files = reportFiles(of).filter(({ type }) => type === 'text/csv');
    const figures = files.flatMap(({ text }) => text.split(/[",\r\n]+/));
    expect(figures.filter((cell) => /^[0-9]+\.[0-9]+$/.test(cell)).length).toBeGreaterThan(500);
    expect(
      found(
        files.map(({ text }) => text),
        /"[0-9]+,[0-9]+"/,
      ),
    ).toEqual([]);
  });

  it('reads neither in any notice on a flawed rack or its water', () => {
    speakAs({ decimal: ',', days: 'day-first', weekStart: 'monday' });
    const lines = [...rackPairs, ...floodPairs].flatMap(({ flawed }) =>
      noticesOf(run(flawed, setLengthDisplay, { lengths: 'imperial' })).flatMap(
        ({ text, remedy }) => [text, remedy],
      ),
    );
    expect(found(lines, / (?:in|gal|lb)\b/).length).toBeGreaterThan(30);
    expect(found(lines, POINT)).toEqual([]);
    expect(found(lines, METRIC)).toEqual([]);
  });
});

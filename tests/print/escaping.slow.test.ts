import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findingsOfPlan } from '../../renderer/derive';
import { readPlan } from '../../renderer/document/open';
import { defaultOptions, printables, printed } from '../../renderer/print';
import { reportHtml } from '../../renderer/print/report';
import { drawFigure } from '../../renderer/print/report/figures/draw';
import type { Notice } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { factor, planWith, shelfWith } from './support/awkwardPlans';

/** Pieces of which a hostile name is made: ends of elements and attributes, scripts, entities. */
const pieces = [
  ...['<script>alert(1)</script>', '"><img src=x onerror=alert(2)>', "' onload='alert(3)"],
  ...['</title></style></text></svg>', '<!--', ']]>', '&lt;b&gt;', '&', '"', "'", '<', '>'],
  ...['plain', ' ', '\u2028', 'é', '`${1}`'],
] as const;
const nameArb = fc
  .array(fc.constantFrom(...pieces), { minLength: 1, maxLength: 4 })
  .map((parts) => parts.join(''));

const ELEMENTS = new Set(
  (
    '!doctype html head meta title style body section header h1 div footer span svg g path text ' +
    'rect circle clippath p'
  ).split(' '),
);

/** Every tag of a page is one that the program writes, with whole attributes and no handler. */
function strangeTags(html: string): string[] {
  const withoutStyle = html.replace(/<style>[^<]*<\/style>/, '');
  return (withoutStyle.match(/<[^>]*>?/g) ?? []).filter((tag) => {
    const [, name = '', attributes = ''] = /^<\/?([!a-zA-Z0-9]+)([^>]*)>$/.exec(tag) ?? [];
    if (name.toLowerCase() === '!doctype') return false;
    const whole = /^(\s+[\w:-]+="[^"<>]*")*\s*\/?$/.test(attributes);
    return !ELEMENTS.has(name.toLowerCase()) || !whole || /\son\w+=/i.test(attributes);
  });
}

function hostile(name: string): Plan {
  const grid = { rows: 2, columns: 3, pitchXMm: 90, pitchYMm: 90, potDiameterMm: 80 };
  const tray = { xMm: 0, yMm: 0, widthMm: 300, depthMm: 200, grid: { ...grid, firstXMm: 50 } };
  const shelf = shelfWith(1, { widthMm: 400, depthMm: 300 }, [tray]);
  const plan = planWith(name, [shelf], [factor('f1', name, [name, `${name}2`])], {
    seed: name,
    plant: (_, i) => `${name}${i}`,
  });
  if (!plan.trial) throw new Error('the plan has a trial');
  return {
    ...plan,
    trial: {
      ...plan.trial,
      measurements: plan.trial.measurements.map((m) => ({ ...m, name, unit: name })),
    },
    records: {
      ...plan.records,
      incidents: [{ id: 'i1', date: '2026-03-02', text: name, about: [] }],
    },
  };
}

test('whatever a plan’s names say, no page holds markup that the program did not write', () => {
  expect(strangeTags('<p>a</p><p class="b">')).toEqual([]);
  for (const bad of ['<script>', '<img src=x>', '<p onclick="x">', '<', '<p title="a>']) {
    expect(strangeTags(bad), bad).not.toEqual([]);
  }
  fc.assert(
    fc.property(nameArb, fc.boolean(), (name, blinded) => {
      const plan = hostile(name);
      const options = { ...defaultOptions('A4'), blinded, log: true, previous: true };
      for (const printable of printables(plan, options)) {
        const made = printed(plan, printable.name, options);
        expect([printable.name, strangeTags(made?.html ?? '')]).toEqual([printable.name, []]);
      }
    }),
    { numRuns: 20, seed: 5 },
  );
}, 60_000);

/** The report of an example in which every word that a person gave is another. */
function hostileReport(name: string): string {
  const file = new URL('../../renderer/app/examples/radishes.json', import.meta.url);
  const read = readPlan(readFileSync(file, 'utf8'));
  if (!read.ok || !read.plan.trial) throw new Error('the example opens');
  const { trial, records } = read.plan;
  const [pot = ''] = Object.keys(records.values[trial.measurements[0]?.id ?? ''] ?? {});
  const plan: Plan = {
    ...read.plan,
    title: name,
    notes: name,
    trial: {
      ...trial,
      question: name,
      factors: trial.factors.map((f, i) => ({
        ...f,
        name: `${name}${i}`,
        levels: f.levels.map((level, k) => ({ ...level, name: `${name}${k}` })),
      })),
      measurements: trial.measurements.map((m) => ({ ...m, name, unit: name })),
    },
    records: {
      ...records,
      marks: { ...records.marks, [pot]: { mark: 'excluded', date: null, reason: name } },
      notes: { [pot]: { text: name, files: [name] } },
      incidents: [{ id: 'i1', date: '2026-03-02', text: name, about: [] }],
    },
  };
  const outcome = findingsOfPlan(plan);
  if (!outcome.ok) throw new Error(outcome.missing);
  const { findings } = outcome;
  const said = { about: [], text: name, remedy: name };
  const notices: Notice[] = [
    { kind: 'value-suspicious', severity: 'warn', stage: 'records', ...said },
  ];
  return reportHtml({ title: name, plan, findings, notices, paper: 'A4' });
}

/** The tags of a page with their attributes' values left out. A value may hold a bare `>`. */
const tagsOf = (html: string): string[] =>
  (html.replace(/<style>[^<]*<\/style>/, '').match(/<(?:"[^"]*"|[^">])*>?/g) ?? []).map((tag) =>
    tag.replace(/"[^"]*"/g, '""'),
  );

test('whatever a plan’s words say, the report holds no markup that the program did not write', () => {
  const name = `${pieces.slice(0, 8).join('')}&'"<>`;
  const html = hostileReport(name);
  const escaped = '&lt;script&gt;alert(1)&lt;/script&gt;';
  expect(html.split(escaped).length).toBeGreaterThan(20);
  expect(html).not.toContain('<script');
  const strange = tagsOf(html).filter((tag) => /script|onload|onerror|<img|<!--/i.test(tag));
  expect(strange).toEqual([]);
  const plain = tagsOf(hostileReport('plain'));
  expect(new Set(tagsOf(html).map(elementOf))).toEqual(new Set(plain.map(elementOf)));
}, 60_000);

/** The element that a tag opens or closes, with the names of its attributes. */
const elementOf = (tag: string): string => /^<\/?[!\w-]+/.exec(tag)?.[0] ?? tag;

test('a figure’s label says a name letter by letter, signs of replacement too', () => {
  const { svg } = drawFigure('residuals', `<b>&"'$&$1`, { width: 300 }, { marks: [] });
  expect(svg).toContain('aria-label="&lt;b&gt;&amp;&quot;&#39;$&amp;$1"');
});

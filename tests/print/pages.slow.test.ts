import { expect, test } from 'vitest';
import { treatmentsOfPlan } from '../../renderer/derive';
import { holeCentre } from '../../renderer/engine/geometry';
import { defaultOptions, printables, printed, type PrintOptions } from '../../renderer/print';
import { cutsBetween } from '../../renderer/print/charts/cuts';
import { shownTreatments } from '../../renderer/print/shown';
import { textWidthMm, wrapText } from '../../renderer/print/text';
import type { Plan } from '../../shared-types/plan';
import { partedAndDrawn } from '../builders/parted';
import { awkwardPlans } from './support/awkwardPlans';

const plans = awkwardPlans();
function planOf(name: string): Plan {
  const plan = plans[name];
  if (!plan) throw new Error(`no plan is called ${name}`);
  return plan;
}

/** The words of a document, without its style sheet. */
function words(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');
}

function all(plan: Plan, options: PrintOptions): Map<string, string> {
  return new Map(
    printables(plan, options).flatMap(({ name }) => {
      const made = printed(plan, name, options);
      return made ? [[name, made.html] as const] : [];
    }),
  );
}

test('title, seed, date and page number stand on every page', () => {
  const plan = planOf('staggered');
  for (const html of all(plan, { ...defaultOptions('A4'), blinded: true }).values()) {
    const pages = html.split('<section ').slice(1);
    pages.forEach((page, i) => {
      const said = words(page);
      expect(said).toContain(plan.title);
      expect(said).toContain('three owls');
      expect(said).toContain('2026-03-01');
      expect(said.toLowerCase()).toContain(`page ${i + 1} of ${pages.length}`);
    });
  }
});

test('blinded pages name no level; the sealed key alone does', () => {
  const plan = planOf('thirty');
  const pages = all(plan, { ...defaultOptions('A4'), blinded: true });
  const levels = plan.trial?.factors.flatMap((factor) => factor.levels.map(({ name }) => name));
  for (const [name, html] of pages) {
    const named = (levels ?? []).filter((level) => new RegExp(`\\b${level}\\b`).test(words(html)));
    expect([name, named.length > 0]).toEqual([name, name === 'sealed-key']);
  }
});

test('codes of blinded pages are one for each treatment, and the same at every printing', () => {
  const plan = planOf('thirty');
  const { byIndex } = shownTreatments(plan, true);
  expect(new Set(byIndex.map(({ mark }) => mark)).size).toBe(treatmentsOfPlan(plan).length);
  expect(new Set(byIndex.map(({ look }) => look)).size).toBe(treatmentsOfPlan(plan).length);
  expect(shownTreatments(structuredClone(plan), true)).toEqual(shownTreatments(plan, true));
  // In the order of the plan the codes would give it away.
  const marks = byIndex.map(({ mark }) => mark);
  expect(marks).not.toEqual([...marks].sort());
});

test('from behind the chart is turned about, not mirrored', () => {
  const plan = planOf('long');
  // Twelve pots in one row: from the front A1 is leftmost, from behind A12.
  const order = (behind: boolean) => {
    const html = printed(plan, 'tray-charts', { ...defaultOptions('A4'), behind })?.html ?? '';
    return [...html.matchAll(/<text x="([\d.]+)"[^>]*>(A\d+)</g)]
      .sort((a, b) => Number(a[1]) - Number(b[1]))
      .map((match) => match[2]);
  };
  expect(order(false)).toHaveLength(12);
  expect(order(false)[0]).toBe('A1');
  expect(order(true)).toEqual([...order(false)].reverse());
  const said = words(
    printed(plan, 'tray-charts', { ...defaultOptions('A4'), behind: true })?.html ?? '',
  );
  expect(said).toContain('BACK – you stand here');
});

test('the list to fetch adds up to the pots of the layout', () => {
  const plan = planOf('shelves');
  const html = printed(plan, 'order-of-work', defaultOptions('A4'))?.html ?? '';
  // 5 shelves with 18 + 18 + 36 pots.
  expect(words(html)).toContain('For the whole rack fetch 360 pots');
  const trays = [...words(html).matchAll(/Tray \w+: fetch (\d+) pots/g)].map((m) => Number(m[1]));
  expect(trays.reduce((sum, n) => sum + n, 0)).toBe(360);
  expect(trays).toHaveLength(15);
});

test('a chart whose letters would be too small comes in parts that hold every pot', () => {
  const plan = planOf('dense');
  const made = printed(plan, 'tray-charts', defaultOptions('A4'));
  expect(made?.pages).toBeGreaterThan(1);
  expect(words(made?.html ?? '')).toContain(`part 1 of ${made?.pages}`);
  // A treatment's mark is text in bold of one letter, its field a rounded rectangle before it.
  const marks = made?.html.match(/rx="[\d.]+" fill="#fff"\/><text /g) ?? [];
  const keys = (made?.pages ?? 0) * 3;
  expect(marks).toHaveLength(60 * 100 + keys);
});

test('recording sheets list every pot in every round, with units, and earlier values if wished', () => {
  const base = planOf('plugs');
  const [start] = base.trial?.measurements ?? [];
  const plan: Plan = {
    ...base,
    records: {
      ...base.records,
      values: { [start?.id ?? '']: { 't10:1:1': 4.5, 't10:2:2': 3.25 } },
    },
  };
  const sheet = (previous: boolean) =>
    words(printed(plan, 'recording-sheets', { ...defaultOptions('Letter'), previous })?.html ?? '');
  expect(sheet(false).match(/1A-A1 /g)).toHaveLength(2);
  expect(sheet(false)).toContain(`in ${start?.unit}`);
  expect(sheet(false)).not.toContain('4.5');
  expect(sheet(true)).toContain('1A-A1 4.5');
});

test('recording sheets hold the measurements chosen, and all where none of them is left', () => {
  const plan = planOf('plugs');
  const [start, harvest] = plan.trial?.measurements ?? [];
  const sheet = (measurementIds: string[] | null) =>
    words(
      printed(plan, 'recording-sheets', { ...defaultOptions('A4'), measurementIds })?.html ?? '',
    );
  expect(sheet([harvest?.id ?? ''])).toContain('Recording sheet, harvest');
  expect(sheet([harvest?.id ?? ''])).not.toContain('Recording sheet, start');
  expect(sheet([start?.id ?? '']).match(/1A-A1 /g)).toHaveLength(1);
  expect(sheet(['gone'])).toBe(sheet(null));
  expect(sheet(null).match(/1A-A1 /g)).toHaveLength(2);
});

test('labels of positions are made before anything is drawn, charts are not', () => {
  const drawn = planOf('plugs');
  const bare = { ...drawn, trial: null, layout: null };
  const offered = (plan: Plan) => printables(plan, { blinded: false }).map(({ name }) => name);
  expect(offered(bare)).toEqual(['labels', 'calibration']);
  expect(offered({ ...drawn, layout: null })).toEqual(['labels', 'calibration']);
  expect(offered(drawn).length).toBeGreaterThan(6);
  const html = printed(bare, 'labels', defaultOptions('A4'))?.html ?? '';
  expect(new Set(html.match(/>1A-[A-K]\d+</g))).toHaveLength(100);
  expect(printed(bare, 'tray-charts', defaultOptions('A4'))).toBeNull();
});

test('cuts leave every pot whole on one piece, and between pots where rows allow', () => {
  for (const name of ['staggered', 'crowd', 'wordy']) {
    const tray = planOf(name).rack.shelves[0]?.trays[0];
    const grid = tray?.grid;
    if (!tray || !grid) throw new Error(`${name}: no grid`);
    const centres = Array.from({ length: grid.rows * grid.columns }, (_, i) =>
      holeCentre(grid, Math.floor(i / grid.columns) + 1, (i % grid.columns) + 1),
    ).map(({ xMm }) => xMm);
    const r = grid.potDiameterMm / 2;
    const pieces = cutsBetween({ from: 0, to: tray.widthMm }, 177, centres, grid.potDiameterMm);
    expect(pieces[0]?.from).toBe(0);
    expect(pieces.at(-1)?.to).toBe(tray.widthMm);
    for (const { from, to } of pieces) expect(to - from).toBeLessThanOrEqual(177 + 1e-9);
    for (const x of centres) {
      const on = pieces.filter(({ from, to }) => x - r >= from - 1e-9 && x + r <= to + 1e-9);
      expect(on.length).toBeGreaterThanOrEqual(1);
    }
  }
  expect(() => cutsBetween({ from: 0, to: 400 }, 70, [50, 150], 80)).toThrow(
    'found pots wider than the page has room for',
  );
});

test('lines hold all words, and none is wider than its room', () => {
  const text = 'slow-release granules, twice the usual dose, Lichtverhältnisversuchsanordnung';
  const lines = wrapText(text, 3, 25);
  expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
  for (const line of lines) expect(textWidthMm(line, 3)).toBeLessThanOrEqual(25);
  expect(wrapText(text, 3, 25, 2)).toHaveLength(2);
  expect(wrapText(text, 3, 25, 2)[1]).toContain('…');
});

test('charts of a tray tell in a line what was logged for it where it is wished, never blinded', () => {
  const base = planOf('plugs');
  const texts = ['Algae', 'Pump failed & <b>ran</b> dry', 'The latest '.repeat(30)];
  const incidents = texts.map((text, i) => ({
    id: `i${i}`,
    date: `2026-03-1${i}`,
    text,
    about: ['t10'],
  }));
  const charts = (count: number, part: Partial<PrintOptions>) => {
    const records = { ...base.records, incidents: incidents.slice(0, count) };
    return (
      printed({ ...base, records }, 'tray-charts', { ...defaultOptions('A4'), ...part })?.html ?? ''
    );
  };
  expect(charts(2, { log: true })).toContain(
    '>Log: 2026-03-10 Algae; 2026-03-11 Pump failed &amp; &lt;b&gt;ran&lt;/b&gt; dry<',
  );
  expect(charts(2, {})).not.toContain('Log:');
  expect(charts(2, { log: true, blinded: true })).not.toContain('Log:');
  expect(charts(0, { log: true })).toBe(charts(0, {}));
  // One line, whose end counts most.
  const long = [...charts(3, { log: true }).matchAll(/>(Log: [^<]*)</g)].map(([, line]) => line);
  expect(new Set(long)).toHaveLength(1);
  expect(long[0]).toMatch(/^Log: … 2026-03-12 The latest .*…$/);
});

test('recording sheets tell what was logged for their tray, the latest where there is no room', () => {
  const base = planOf('plugs');
  const incident = (id: string, date: string, text: string, about: string[]) => ({
    id,
    date,
    text,
    about,
  });
  const logged = (incidents: Plan['records']['incidents']): Plan => ({
    ...base,
    records: { ...base.records, incidents },
  });
  const sheets = (plan: Plan, blinded = false) =>
    printed(plan, 'recording-sheets', { ...defaultOptions('A4'), blinded });
  const two = logged([
    incident('i2', '2026-03-19', 'Pump failed & <b>ran</b> dry', ['t10']),
    incident('i1', '2026-03-10', 'Algae', []),
    incident('i3', '2026-03-20', 'Lamp died', ['t99']),
  ]);
  const html = sheets(two)?.html ?? '';
  expect(html).toContain(
    'Log: 2026-03-10 Algae; 2026-03-19 Pump failed &amp; &lt;b&gt;ran&lt;/b&gt;',
  );
  expect(html).not.toContain('Lamp died');
  // What was done to a tray could tell its treatment.
  expect(sheets(two, true)?.html).not.toContain('Log:');
  const many = Array.from({ length: 40 }, (_, i) =>
    incident(
      `i${i}`,
      `2026-04-${String((i % 28) + 1).padStart(2, '0')}`,
      `Event ${i} `.repeat(3),
      [],
    ),
  );
  const long = sheets(logged(many))?.html ?? '';
  expect(long).toContain('Log: … 2026-04-');
  expect(long).toContain('2026-04-28');
  expect(long).not.toContain('2026-04-01');
  expect(words(long).match(/1A-A1 /g)).toHaveLength(2);
});

test('boards and the bays they make stand on every chart of their shelf', () => {
  const plan = partedAndDrawn();
  const charts = [...all(plan, defaultOptions('A4'))].filter(([, html]) =>
    html.includes('Planting chart'),
  );
  const boards = (html: string) => html.split('class="board"').length - 1;
  const counts = new Map(charts.map(([name, html]) => [name, boards(html)]));
  // Three shelves with a board each: once on each tray's and each shelf's chart, thrice on the rack's.
  for (const name of ['tray-charts', 'shelf-charts', 'rack-chart'])
    expect(counts.get(name)).toBe(3);
  for (const [name, html] of charts) {
    // Sheets at true size leave out what lies between blocks of pots.
    if (name !== 'true-size') expect(boards(html)).toBeGreaterThanOrEqual(3);
    expect(words(html)).toContain('bay 1 left');
    expect(words(html)).toContain('bay 3 right');
    // The holes that a board cost lie under it: no sign of theirs is to be explained.
    expect(words(html)).not.toContain('empty hole');
  }
});

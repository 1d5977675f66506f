import { describe, expect, it } from 'vitest';
import { setUpHtml } from '../../../renderer/print/report/setUp';
import { settingsTable } from '../../../renderer/print/report/setUp/compact';
import { html } from '../../../renderer/print/html';
import { example } from '../../builders/examplePlans';
import { twoRuns } from '../../builders/twoRuns';
import { drawnWithWater } from '../../engine/treated/plans';

/** What is read, without tags and without the files in links. */
const textOf = (markup: string): string =>
  markup
    .replace(/<a [^>]*>[^<]*<\/a>/g, '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');

describe('the set-up on paper', () => {
  const plan = example('basil');
  const text = textOf(html`${setUpHtml(plan)}`.markup);

  it('names every setting that the trial can be repeated from', () => {
    // Each as it stands in the plan's file.
    for (const said of [
      'weak (1.0 mS/cm): basil feed, EC 1 mS/cm',
      'split plot, with each shelf as a block',
      'Seed of the draw sage and basil',
      'Drawn 2026-02-27',
      'Planted 2026-03-02',
      'Harvest 2026-04-06',
      'width × depth 1200 mm × 600 mm',
      'canopy from planting to harvest 110 mm to 260 mm',
      '60 %, 8 %, 0 %, 80 %, 0 %, 0 %',
      '1A, 2A and 3A 10 mm / 20 mm',
      'width × depth 380 mm × 560 mm; rim 60 mm; holes, rows × columns 6 × 4, square',
      'centre to centre 88 mm × 88 mm',
      'pots 80 mm across, 80 mm high',
      'strip, 1150 mm × 20 mm',
      // 24 W at 2.4 µmol/J.
      '57.6 µmol/s 24 W 2.4 µmol/J',
      '4 × White strip, 1150 mm at 100 % 420 mm 600 mm / 60 mm, 600 mm / 220 mm',
      '16 h',
      'can of 2A 2A weak',
      '7:30 to 21:00, every 240 min for 10 min',
      'volume 20 L (1.5 L unusable); flood depth 32 mm, 2 mm stays',
      'standpipe, overflow bore 40 mm, return bore 16 mm through the pump',
      'peat and perlite all 88 % 55 % 110 kg/m³',
    ]) {
      expect(text).toContain(said);
    }
  });

  it('tells what lamps lose, how long they have burnt and canopies of single trays', () => {
    const lampKinds = plan.rack.lampKinds.map((kind) => ({ ...kind, lossPer1000h: 0.035 }));
    const shelves = plan.rack.shelves.map((shelf, i) => ({
      ...shelf,
      lamps: shelf.lamps.map((lamp) => (i === 0 ? { ...lamp, burntHours: 2500 } : lamp)),
      trays: shelf.trays.map((tray, t) =>
        i + t === 0 ? { ...tray, canopy: { plantingMm: 120, harvestMm: 310 } } : tray,
      ),
    }));
    const worn = textOf(html`${setUpHtml({ ...plan, rack: { shelves, lampKinds } })}`.markup);
    expect(worn).toContain('loses 3.5 % in 1000 h');
    expect(worn).toMatch(/420 mm, burnt 2,?500 h before the trial/);
    expect(worn).toContain('tray A: 120 mm to 310 mm');
    expect(text).not.toMatch(/loses|burnt/);
  });

  it('tells PPFD and DLI by shelf and by treatment', () => {
    const rows = [...text.matchAll(/ ([123]) (\d+) (\d+) to (\d+) ([\d.]+) /g)];
    expect(rows).toHaveLength(3);
    for (const [, , ppfd, , , dli] of rows) {
      // DLI = PPFD × 16 h × 3600 s ÷ 10⁶, of a PPFD told to three figures.
      expect(Number(dli) / (Number(ppfd) * 16 * 0.0036)).toBeCloseTo(1, 1);
    }
    expect(text).toContain('Light at the pots, by treatment');
    expect(text).toContain('27 meter readings of 2026-02-26');
  });

  it('tells the levels as they stand on lamps and water after a draw', () => {
    const treated = drawnWithWater();
    const said = textOf(html`${setUpHtml(treated)}`.markup);
    for (const { levels } of treated.trial?.factors ?? []) {
      for (const { name } of levels) expect(said).toContain(name);
    }
    expect(said).not.toMatch(/undefined|NaN|\[object/);
  });
});

it('lists the runs of a trial with their dates and draws, and none where there is one', () => {
  const said = textOf(html`${setUpHtml(twoRuns())}`.markup);
  expect(said).toContain('Runs of the trial; what follows is of run 2');
  expect(said).toContain(' 1 2026-03-02 seven herons 2 no eight herons ');
  expect(textOf(html`${setUpHtml(example('basil'))}`.markup)).not.toContain('Runs of the trial');
});

describe('settings in a table', () => {
  const heads = ['Shelf', 'Width', 'Height'];
  const made = (rows: string[][]) => settingsTable({ name: 's', caption: 'c', heads, rows });

  it('share a row where they are alike, and say once what is the same for all', () => {
    const table = made([
      ['1', '60 cm', '20 cm'],
      ['2', '60 cm', '70 cm'],
      ['3', '60 cm', '20 cm'],
    ]);
    expect(table?.columns.map(({ head }) => head)).toEqual(['Shelf', 'Height']);
    expect(table?.rows.map((row) => row.map(({ text }) => text))).toEqual([
      ['1 and 3', '20 cm'],
      ['2', '70 cm'],
    ]);
    expect(table?.note).toBe('The same for all: width 60 cm.');
  });

  it('keep their columns where all are alike, and there is no table of nothing', () => {
    const table = made([
      ['1', '60 cm', ''],
      ['2', '60 cm', ''],
    ]);
    expect(table?.rows.map((row) => row.map(({ text }) => text))).toEqual([['1 and 2', '60 cm']]);
    expect(table?.note).toBeUndefined();
    expect(made([])).toBeNull();
  });

  it('of one thing alone are told line by line where there is half the page', () => {
    const rows = [['1', '60 cm', '20 cm']];
    const table = settingsTable({ name: 's', caption: 'c', heads, rows, upright: true });
    expect(table?.columns.map(({ head }) => head)).toEqual(['Shelf', '1']);
    expect(table?.rows.map((row) => row.map(({ text }) => text))).toEqual([
      ['Width', '60 cm'],
      ['Height', '20 cm'],
    ]);
  });
});

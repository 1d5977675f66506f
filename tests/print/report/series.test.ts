import { describe, expect, it } from 'vitest';
import type { Series } from '../../../renderer/engine/findings';
import { seriesFigure } from '../../../renderer/print/report';
import { example } from '../../builders/examplePlans';

const [measurement] = example('basil').trial.measurements;
if (!measurement) throw new Error('the example measures something');

const feeds = ['weak', 'strong'];
const cultivars = ['Brook', 'Dun', 'Fen'];
const series: Series = {
  measurement,
  dates: [0, 9, 35].map((day) => ({ date: `d${day}`, day, measurementId: 'm', pots: 6 })),
  curves: feeds.flatMap((feed) =>
    cultivars.map((cultivar, i) => ({
      levels: { feed, cultivar },
      label: `${feed} · ${cultivar}`,
      points: [0, 9, 35].map((day) => {
        const mean = (2 + i) * 1.08 ** day;
        return { date: `d${day}`, day, mean, lower: mean * 0.9, upper: mean * 1.1 };
      }),
    })),
  ),
  pots: feeds.flatMap((feed) =>
    [0, 9, 35].map((day) => ({
      potId: feed,
      code: feed,
      day,
      value: 2 * 1.08 ** day,
      label: `${feed} · Brook`,
    })),
  ),
  scale: 'logarithmic',
  terms: [],
  logarithms: true,
  method: '',
};

const sidesOf = (svg: string) =>
  ['width', 'height'].map((name) => Number(new RegExp(` ${name}="([\\d.]+)"`).exec(svg)?.[1]));

describe('growth over time', () => {
  it('has a colour, a shape and a dash for every treatment, so that it reads without colour', () => {
    const { svg } = seriesFigure(series, { width: 680 });
    const marks = [...svg.matchAll(/<path [^>]*?d="([^"]+)" fill="(#[^"]+)"/g)];
    const pairs = new Set(marks.map(([, shape, colour]) => `${shape ?? ''} ${colour ?? ''}`));
    expect(pairs.size).toBe(cultivars.length);
    expect(new Set(marks.map(([, shape]) => shape)).size).toBe(cultivars.length);
    for (const name of cultivars) expect(svg.split(`>${name}<`)).toHaveLength(2);
    for (const feed of feeds) expect(svg).toContain(`>feed: ${feed}<`);
  });

  it('sets panels beside each other on paper and under each other on a phone', () => {
    const [, onPaper = 0] = sidesOf(seriesFigure(series, { width: 680 }).svg);
    const [, onPhone = 0] = sidesOf(seriesFigure(series, { width: 350 }).svg);
    expect(onPaper).toBeLessThan(320);
    expect(onPhone).toBeGreaterThan(400);
  });

  it('has every pot behind its curve, linked on screen alone', () => {
    const dots = (svg: string) => svg.match(/<circle [^>]*r="1.7"/g)?.length ?? 0;
    const onScreen = seriesFigure(series, { width: 680, links: true }).svg;
    expect(dots(onScreen)).toBe(6);
    expect(onScreen.match(/#pot:/g)).toHaveLength(6);
    expect(seriesFigure(series, { width: 680 }).svg).not.toContain('#pot:');
    // A pot without growth has no place on a scale of logarithms, but one on a linear scale.
    const none = series.pots.map((pot, i) => (i === 0 ? { ...pot, value: 0 } : pot));
    const scaled = (scale: Series['scale']) =>
      seriesFigure({ ...series, pots: none, scale }, { width: 680 }).svg;
    expect([dots(scaled('logarithmic')), dots(scaled('linear'))]).toEqual([5, 6]);
  });

  it('has round figures on a scale of logarithms', () => {
    const { svg } = seriesFigure(series, { width: 680 });
    // From 1.8 to 65: what is 1, 2 or 5 times a power of ten.
    for (const step of ['2', '5', '10', '20', '50']) expect(svg).toContain(`>${step}</text>`);
    expect(svg).not.toContain('>3</text>');
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { plannedAnalysis } from '../../renderer/derive/trial/rehearsal';
import { prepareDraw } from '../../renderer/engine/trial';
import { levelNumbers } from '../../renderer/engine/trial/rehearsal/levels';
import { factorOf, inputOf, rackOf, trialOf } from '../builders/trialInput';

describe('the planned analysis on a uniformity trial of radishes', () => {
  // Heath 1970: 400 plants treated alike in four basins of 10 × 10, edge plants larger. Whatever
  // design is laid over them, a sound analysis finds something no more often than its level.
  const text = readFileSync(
    new URL('uniformity/heath.radish.uniformity.csv', import.meta.url),
    'utf8',
  );
  const [, ...lines] = text.trim().split(/\r?\n/);
  const valueAt = new Map<string, number>(
    lines.map((line) => {
      const [row = '', column = '', block = '', value = ''] = line.replaceAll('"', '').split(',');
      const within = (of: string) => ((Number(of) - 1) % 10) + 1;
      return [
        `t${block.replace('B', '')}01:${within(row)}:${within(column)}`,
        Number(value),
      ] as const;
    }),
  );
  const rack = rackOf({ shelves: 4, traysPerShelf: 1, rows: 10, columns: 10 });

  it.each([
    ['blocks by tray', { blocks: { by: 'tray' }, scheme: 'complete-blocks' }],
    [
      'blocks by tray, edge pots told apart',
      {
        blocks: { by: 'tray' },
        scheme: 'complete-blocks',
        primaryPosition: 'edge',
      },
    ],
    ['no blocks', {}],
  ] as const)('raises no more false alarms than its level with %s', (_, design) => {
    const input = inputOf(rack, trialOf([factorOf(1, 'pot', 5)], design));
    const { site, draw } = prepareDraw(input);
    const response = Float64Array.from(site.pots, (pot) => valueAt.get(pot.id) ?? NaN);
    const alive = Uint8Array.from(response, (value) => (Number.isFinite(value) ? 1 : 0));
    expect(alive.reduce((sum, one) => sum + one, 0)).toBe(399);
    const analysis = plannedAnalysis({ ...input, wetDepthByPot: new Map() }, site);
    const start = new Float64Array(response.length);
    const runs = 400;
    let alarms = 0;
    for (let run = 0; run < runs; run++) {
      const levels = levelNumbers(site, draw(`radish ${run}`));
      const [test] = analysis.planned({ alive, start, levels }).finds(response);
      if (test?.found) alarms++;
    }
    // Four standard errors of a share of 0.05.
    expect(Math.abs(alarms / runs - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / runs));
  });
});

import * as commands from '../../../../renderer/document/commands';
import { bind } from '../../../../renderer/document/compose';
import { seenFrom } from '../../../../renderer/document/runs';
import { runsOf } from '../../../../renderer/document/runs';
import { drawnPlan } from '../../../builders/samplePlan';
import { pot, factor, level, measurement, name, date, act } from './dice';
import type { Move } from './dice';

export const layoutMoves: Move[] = [
  act(commands.keepLayout)(() => {
    const layout = drawnPlan().layout;
    if (!layout) throw new Error('the sample has no layout; one is expected');
    return { layout };
  }),
  act(commands.dropLayout)(() => ({})),
  act(commands.correctPlanted)((_p, d) => ({
    edit: bind(commands.editLight, { patch: { photoperiodHours: d.yes() ? 12 : 14 } }),
    date: '2026-03-20',
    reason: name(d),
  })),
  act(commands.markPlanted)((_p, d) => ({ date: date(d) })),
  act(commands.unlockLayout)((_p, d) => ({ date: date(d), reason: name(d) })),
  act(commands.swapPots)((p, d) => ({
    a: pot(p, d),
    b: pot(p, d),
    date: date(d),
    reason: '',
    recordsMove: d.yes(),
  })),
  act(commands.planRuns)((p, d) => ({
    runs: Math.min(runsOf(p).length + d.one([1, 2], 0), 4),
    swappedFactorId: d.yes() ? null : factor(p, d),
  })),
  act<string>({ name: 'seenFrom', label: () => '', run: (p, id) => seenFrom(p, id) })((p, d) =>
    d.one(
      runsOf(p).map(({ id }) => id),
      p.runId,
    ),
  ),
  act(commands.removeRun)((p, d) => ({
    runId: d.one(
      runsOf(p).map(({ id }) => id),
      'run999',
    ),
  })),
  act(commands.setPlants)((p, d) => ({
    plants: ['P1', 'P2', 'P3'].map((code) => ({
      code: d.one([code, `${code}x`], 'P1'),
      startValue: d.number(),
      ...(d.yes() ? {} : { levels: { [factor(p, d)]: level(p, d) } }),
    })),
  })),
  act(commands.placePlants)((p, d) => ({
    places: [{ potId: pot(p, d), plant: 'P1', startValue: 2.5 }],
    measurementId: d.yes() ? null : measurement(p, d),
  })),
  act(commands.substitutePlant)((p, d) => ({
    potId: pot(p, d),
    plant: d.one(
      (p.plants ?? []).map((plant) => plant.code),
      'P1',
    ),
    measurementId: d.yes() ? null : measurement(p, d),
    date: date(d),
    reason: name(d),
  })),
];

import * as commands from '../../../../renderer/document/commands';
import { firstAnswers } from '../../../../renderer/document/quickStart';
import { shelf, tray, kind, pot, factor, level, measurement, name, date, act } from './dice';
import type { Move } from './dice';

export const trialMoves: Move[] = [
  act(commands.renamePlan)((_p, d) => ({ title: name(d) })),
  act(commands.editNotes)((_p, d) => ({ notes: name(d) })),
  act(commands.quickStart)((_p, d) => ({
    ...firstAnswers,
    shelves: d.yes() ? 2 : d.number(),
    columns: 2,
    rows: 1,
    question: name(d),
  })),
  act(commands.setLengthDisplay)((_p, d) => ({ lengths: d.yes() ? 'metric' : 'imperial' })),
  act(commands.setTrial)((_p, d) => ({ question: name(d) })),
  act(commands.dropTrial)(() => ({})),
  act(commands.editTrial)((p, d) => ({
    patch: d.yes()
      ? { alpha: d.number() }
      : { primaryOutcomeId: measurement(p, d), startDate: date(d) },
  })),
  act(commands.addFactor)((_p, d) => ({
    name: name(d),
    kind: d.yes() ? 'fixed' : 'randomised',
    unit: d.one(['shelf', 'tray', 'pot'], 'pot'),
    levels: [name(d), name(d)],
  })),
  act(commands.editFactor)((p, d) => ({
    factorId: factor(p, d),
    patch: d.yes()
      ? { name: name(d), ...(d.yes() && { appliedThrough: 'light' as const }) }
      : { unit: 'tray', kind: 'fixed' },
  })),
  act(commands.removeFactor)((p, d) => ({ factorId: factor(p, d) })),
  act(commands.addLevel)((p, d) => ({ factorId: factor(p, d), name: name(d) })),
  act(commands.renameLevel)((p, d) => ({
    factorId: factor(p, d),
    levelId: level(p, d),
    name: name(d),
  })),
  act(commands.removeLevel)((p, d) => ({ factorId: factor(p, d), levelId: level(p, d) })),
  act(commands.moveLevel)((p, d) => ({
    factorId: factor(p, d),
    levelId: level(p, d),
    to: d.number(),
  })),
  act(commands.fixRule)(() => ({ date: '2026-03-01' })),
  act(commands.releaseRule)((_p, d) => ({ date: '2026-03-02', reason: name(d) })),
  act(commands.setControl)((p, d) => ({
    factorId: factor(p, d),
    levelId: d.yes() ? level(p, d) : null,
  })),
  act(commands.setTimes)((p, d) => ({
    factorId: factor(p, d),
    levelId: level(p, d),
    times: d.yes() ? 2 : 1,
  })),
  act(commands.setLevelSettings)((p, d) => {
    const lit = p.trial?.factors.find((f) => f.appliedThrough === 'light');
    return {
      factorId: lit?.id ?? factor(p, d),
      levelId: lit?.levels[0]?.id ?? level(p, d),
      settings: d.yes()
        ? { through: 'light', dimming: d.yes() ? 0.5 : 2, lampKindId: kind(p, d) }
        : null,
    };
  }),
  act(commands.setRackByLevels)((p, d) => ({
    factorId: p.trial?.factors.find((f) => f.kind === 'fixed')?.id ?? factor(p, d),
  })),
  act(commands.setContrasts)((p, d) => {
    const chosen = p.trial?.factors.find((f) => f.levels.length > 1);
    const [first, second] = (chosen?.levels ?? []).map((l) => l.id);
    return {
      factorId: chosen && d.yes() ? chosen.id : factor(p, d),
      contrasts: [
        {
          name: name(d),
          weights: [
            { levelId: first ?? 'v999', weight: 1 },
            { levelId: second ?? level(p, d), weight: d.yes() ? -1 : d.number() },
          ],
        },
      ],
    };
  }),
  act(commands.setGivenWhere)((p, d) => {
    const chosen = p.trial?.factors.find((f) => f.id === factor(p, d));
    return {
      factorId: chosen?.id ?? 'f999',
      unitIds: [
        chosen?.unit === 'shelf' ? shelf(p, d) : chosen?.unit === 'tray' ? tray(p, d) : pot(p, d),
      ],
      levelId: d.one(
        (chosen?.levels ?? []).map((l) => l.id),
        null as string | null,
      ),
    };
  }),
  act(commands.addMeasurement)((_p, d) => ({
    name: name(d),
    timepoint: 'interim',
    measurement: { lowest: d.number() },
  })),
  act(commands.editMeasurement)((p, d) => ({
    measurementId: measurement(p, d),
    patch: d.yes() ? { highest: d.number() } : { decimals: d.number() },
  })),
  act(commands.removeMeasurement)((p, d) => ({
    measurementId: measurement(p, d),
    withValues: d.yes(),
  })),
  act(commands.setBlocks)((_p, d) => ({ blocks: { by: 'rows', perBlock: d.number() } })),
  act(commands.setScheme)((_p, d) => ({ scheme: d.one(['split-plot'], 'latin-square') })),
  act(commands.setConstraint)((_p, d) => ({ patch: { acceptanceShare: d.number() } })),
  act(commands.acceptNotice)((_p, d) => ({
    kind: 'low-power',
    about: ['plan'],
    reason: name(d),
    date: null,
  })),
  act(commands.redesign)((p, d) => ({
    factorId: factor(p, d),
    unit: d.one(['shelf', 'tray', 'pot'] as const, 'pot'),
    blocks: d.yes() ? { by: 'none' } : { by: 'shelf' },
    scheme: d.yes() ? 'split-plot' : 'complete-blocks',
  })),
  act(commands.repeatShelves)((_p, d) => ({ times: d.one([1, 2], 0.5) })),
  act(commands.reportAsCase)((p, d) => ({
    factorId: factor(p, d),
    kind: 'factor-not-replicated',
    why: name(d),
    date: null,
  })),
  act(commands.withdrawAcceptance)(() => ({ kind: 'low-power', about: ['plan'] })),
];

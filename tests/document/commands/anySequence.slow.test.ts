import fc from 'fast-check';
import { alignments, spreadDirections } from '../../../shared-types/window/arranging';
import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../../renderer/document/apply';
import type { Outcome } from '../../../renderer/document/apply';
import type { Command } from '../../../renderer/document/command';
import { bind } from '../../../renderer/document/compose';
import { firstAnswers } from '../../../renderer/document/quickStart';
import * as commands from '../../../renderer/document/commands';
import { emptyHistory, recordStep, redoStep, undoStep } from '../../../renderer/document/history';
import { emptyPlan, newFlood, newGrid } from '../../../renderer/document/new';
import { runsOf, seenFrom, seenFromLast } from '../../../renderer/document/runs';
import { findInconsistency, readPlan, writePlan } from '../../../renderer/document/open';
import { potsOfRack } from '../../../renderer/engine/geometry';
import { drawnWithWater, withFactor, withSettings } from '../../engine/treated/plans';
import { planSchema } from '../../../shared-types/plan';
import type { Plan } from '../../../shared-types/plan';
import type { RackPlace } from '../../../shared-types/rack';
import { drawnPlan, samplePlan } from '../../builders/samplePlan';

/** Takes one of a list, or a stranger where the list is empty or the die says so. */
interface Dice {
  one<T>(list: readonly T[], stranger: T): T;
  number(): number;
  yes(): boolean;
}

interface Move {
  name: string;
  make(plan: Plan, dice: Dice): Outcome;
}

const act =
  <Args>(command: Command<Args>) =>
  (args: (plan: Plan, dice: Dice) => Args): Move => ({
    name: command.name,
    make: (plan, dice) => applyCommand(plan, command, args(plan, dice)),
  });

const board = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.flatMap(({ boards = [] }) => boards.map(({ id }) => id)),
    'b999',
  );
const shelf = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.map((s) => s.id),
    's999',
  );
const tray = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.flatMap((s) => s.trays.map((t) => t.id)),
    't999',
  );
const lamp = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.flatMap((s) => s.lamps.map((l) => l.id)),
    'l999',
  );
const zone = (plan: Plan, dice: Dice) => dice.one(plan.flood?.zones.map((z) => z.id) ?? [], 'z999');
const kind = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.lampKinds.map((k) => k.id),
    'k999',
  );
const pot = (plan: Plan, dice: Dice) =>
  dice.one(
    potsOfRack(plan.rack).map((p) => p.id),
    't999:1:1',
  );
const item = (plan: Plan, dice: Dice) =>
  dice.yes() ? `tray:${tray(plan, dice)}` : `lamp:${lamp(plan, dice)}`;
const factor = (plan: Plan, dice: Dice) =>
  dice.one(
    (plan.trial?.factors ?? []).map((f) => f.id),
    'f999',
  );
const level = (plan: Plan, dice: Dice) =>
  dice.one(
    (plan.trial?.factors ?? []).flatMap((f) => f.levels.map((l) => l.id)),
    'v999',
  );
const measurement = (plan: Plan, dice: Dice) =>
  dice.one(
    (plan.trial?.measurements ?? []).map((m) => m.id),
    'm999',
  );
const name = (dice: Dice) => dice.one(['light', ' Medium ', 'pH', 'bark', ''], 'x'.repeat(130));
const date = (dice: Dice) => dice.one(['2026-03-01', '2026-04-05'], 'tomorrow');

const place = (dice: Dice): RackPlace => ({
  xMm: dice.one([0, 1250], dice.number()),
  yMm: dice.one([0, 650], dice.number()),
  turnDeg: dice.yes() ? 0 : 90,
});

const moves: Move[] = [
  act(commands.renamePlan)((_p, d) => ({ title: name(d) })),
  act(commands.editNotes)((_p, d) => ({ notes: name(d) })),
  act(commands.quickStart)((_p, d) => ({
    ...firstAnswers,
    ...{ shelves: d.yes() ? 2 : d.number(), columns: 2, rows: 1, question: name(d) },
  })),
  act(commands.setLengthDisplay)((_p, d) => ({ lengths: d.yes() ? 'metric' : 'imperial' })),
  act(commands.addShelf)((_p, d) => (d.yes() ? {} : { shelf: { widthMm: d.number() } })),
  act(commands.editShelf)((p, d) => ({
    shelfId: shelf(p, d),
    patch: d.yes() ? { clearanceMm: d.number() } : { number: d.number() },
  })),
  act(commands.setFacing)((p, d) => ({
    shelfId: shelf(p, d),
    side: d.yes() ? 'left' : 'back',
    facing: d.yes()
      ? { kind: 'shelf', shelfId: shelf(p, d), gapMm: d.number() }
      : { kind: 'wall', reflectance: 0.8, distanceMm: d.number() },
  })),
  act(commands.addBoard)((p, d) => ({
    shelfIds: [shelf(p, d)],
    board: {
      direction: d.one(['across', 'lengthwise'] as const, 'across'),
      atMm: d.one([400, 600], d.number()),
      thicknessMm: 10,
      reflectance: 0.9,
      downToMm: 60,
    },
  })),
  act(commands.editBoard)((p, d) => ({ boardId: board(p, d), patch: { reflectance: 0.5 } })),
  act(commands.copyBoards)((p, d) => ({
    fromShelfId: shelf(p, d),
    toShelfIds: [shelf(p, d)],
  })),
  act(commands.copySides)((p, d) => ({
    fromShelfId: shelf(p, d),
    toShelfIds: [shelf(p, d)],
  })),
  act(commands.partLamps)((p, d) => ({ shelfId: shelf(p, d) })),
  act(commands.setBayHours)((p, d) => ({
    shelfId: shelf(p, d),
    bayId: d.one(
      p.rack.shelves.flatMap(({ bays = [] }) => bays.map(({ id }) => id)),
      'b1',
    ),
    hours: d.yes() ? null : d.number(),
  })),
  act(commands.removeShelves)((p, d) => ({ shelfIds: [shelf(p, d)] })),
  act(commands.blindTrial)((_p, d) => ({ date: date(d) })),
  act(commands.openBlinding)((_p, d) => ({ date: date(d), reason: name(d) })),
  act(commands.placeRack)((p, d) => ({ shelfIds: [shelf(p, d)], place: place(d) })),
  act(commands.duplicateRack)((p, d) => ({ shelfIds: [shelf(p, d)], place: place(d) })),
  act(commands.setRoom)((_p, d) => ({
    room: d.yes() ? null : { widthMm: 4000, depthMm: d.yes() ? 4000 : d.number(), heightMm: 2500 },
  })),
  act(commands.duplicateShelf)((p, d) => ({ shelfId: shelf(p, d) })),
  act(commands.reorderShelf)((p, d) => ({ shelfId: shelf(p, d), to: d.number() })),
  act(commands.renumberShelves)(() => ({})),
  act(commands.addTray)((p, d) => ({ shelfId: shelf(p, d) })),
  act(commands.editTray)((p, d) => ({
    trayId: tray(p, d),
    patch: d.yes() ? { letter: d.one(['A', 'C', 'b'], 'Z') } : { widthMm: d.number() },
  })),
  act(commands.setTrayCanopy)((p, d) => ({
    trayIds: [tray(p, d)],
    canopy: d.yes() ? null : { harvestMm: d.number() },
  })),
  act(commands.setDrainPlace)((p, d) => ({
    trayIds: [tray(p, d)],
    place: d.yes() ? null : d.one(['back', 'middle'], 'left'),
  })),
  act(commands.moveItems)((p, d) => ({
    items: [item(p, d), item(p, d)],
    dxMm: d.number(),
    dyMm: d.number(),
    dzMm: d.number(),
  })),
  act(commands.resizeTray)((p, d) => ({
    trayId: tray(p, d),
    xMm: 0,
    yMm: 10.04,
    widthMm: d.number(),
    depthMm: 300,
    refitGrid: d.yes(),
  })),
  act(commands.duplicateItems)((p, d) => ({
    items: [item(p, d), item(p, d)],
    dxMm: d.number(),
    dyMm: 5,
  })),
  act(commands.duplicateBeside)((p, d) => ({ items: [item(p, d), item(p, d)] })),
  act(commands.copyToShelves)((p, d) => ({ items: [item(p, d)], toShelfIds: [shelf(p, d)] })),
  act(commands.alignItems)((p, d) => ({
    items: [item(p, d), item(p, d)],
    to: d.one(alignments, 'left'),
  })),
  act(commands.spreadItems)((p, d) => ({
    items: [item(p, d), item(p, d), item(p, d)],
    along: d.one(spreadDirections, 'across'),
  })),
  act(commands.removeItems)((p, d) => ({ items: [item(p, d)] })),
  act(commands.fitPots)((p, d) => ({ trayIds: [tray(p, d)] })),
  act(commands.setGrid)((p, d) => ({
    trayId: tray(p, d),
    grid: d.yes()
      ? { ...newGrid({ widthMm: 500, depthMm: 400 }), rows: d.number(), guards: ['1:1', '3:2'] }
      : null,
  })),
  act(commands.setGuardRing)((p, d) => ({ trayIds: [tray(p, d)], on: d.yes() })),
  act(commands.toggleGuards)((p, d) => ({ potIds: [pot(p, d), pot(p, d)] })),
  act(commands.toggleEmptyHoles)((p, d) => ({ potIds: [pot(p, d)] })),
  act(commands.addLampKind)((_p, d) => (d.yes() ? {} : { kind: { powerW: d.number() } })),
  act(commands.editLampKind)((p, d) => ({ kindId: kind(p, d), patch: { name: name(d) } })),
  act(commands.removeLampKind)((p, d) => ({ kindId: kind(p, d) })),
  act(commands.restateOutput)((p, d) => ({
    kindId: kind(p, d),
    as: d.yes() ? 'watts' : d.yes() ? 'photons' : 'lumens',
  })),
  act(commands.addLamp)((p, d) => ({ shelfId: shelf(p, d), kindId: kind(p, d), count: 2 })),
  act(commands.setLeadEnd)((p, d) => ({
    lampIds: [lamp(p, d)],
    end: d.yes() ? null : d.one(['left'], 'right'),
  })),
  act(commands.editLamps)((p, d) => ({
    edits: [{ lampId: lamp(p, d), patch: d.yes() ? { dimming: d.number() } : { kindId: 'k77' } }],
  })),
  act(commands.setRota)((p, d) => {
    const [one, other] = [tray(p, d), tray(p, d)];
    const swap = {
      [one]: { placeOf: other, turned: d.yes() },
      [other]: { placeOf: one, turned: true },
    };
    return { rota: d.yes() ? [] : [{ fromDay: d.yes() ? 3 : d.number(), toDay: 9, places: swap }] };
  }),
  act(commands.placeInRota)((p, d) => ({
    period: d.yes() ? 0 : d.number(),
    trayId: tray(p, d),
    place: { placeOf: tray(p, d), turned: d.yes() },
  })),
  act(commands.arrangeLamps)((p, d) => ({
    shelfId: shelf(p, d),
    lamps: [
      {
        kindId: kind(p, d),
        xMm: d.number(),
        yMm: 5,
        zMm: 400,
        rotationDeg: 0,
        tiltDeg: 0,
        dimming: 0.5,
        group: 'a',
      },
    ],
  })),
  act(commands.editLight)((_p, d) => ({
    patch: { targetPpfdUmol: { lowest: d.number(), highest: d.number() } },
  })),
  act(commands.addReadings)((p, d) => ({
    readings: [
      {
        shelfId: shelf(p, d),
        xMm: d.number(),
        yMm: 5,
        zMm: 5,
        value: 200,
        unit: d.yes() ? 'lux' : 'ppfd',
        luxPerPpfd: d.yes() ? 70 : null,
        date: null,
        note: '',
      },
    ],
  })),
  act(commands.editReading)((p, d) => ({
    readingId: d.one(
      p.light.readings.map((r) => r.id),
      'r999',
    ),
    patch: { value: d.number() },
  })),
  act(commands.keepReadings)((p) => ({ readingIds: p.light.readings.map((r) => r.id) })),
  act(commands.removeReadings)((p) => ({ readingIds: p.light.readings.map((r) => r.id) })),
  act(commands.startFlood)(() => ({})),
  act(commands.setFlood)((p, d) => ({
    flood: d.yes() ? { ...newFlood('z777', p.rack), trayMassKg: d.number() } : null,
  })),
  act(commands.editFlood)((_p, d) => ({ patch: { trayMassKg: d.number() } })),
  act(commands.addZone)(() => ({})),
  act(commands.editZone)((p, d) => ({
    zoneId: zone(p, d),
    patch: d.yes() ? { floodDepthMm: d.number() } : { trayIds: [tray(p, d)] },
  })),
  act(commands.removeZone)((p, d) => ({ zoneId: zone(p, d) })),
  act(commands.addMedium)((p, d) => ({
    medium: {
      name: name(d),
      porosity: 0.8,
      dryDensityKgM3: d.number(),
      waterAtDrainShare: 0.4,
      trayIds: [tray(p, d)],
    },
  })),
  act(commands.addCircuit)(() => ({})),
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
  act(commands.enterValues)((p, d) => ({
    measurementId: measurement(p, d),
    entries: [
      { potId: pot(p, d), value: d.number() },
      { potId: pot(p, d), value: null },
    ],
    second: d.yes(),
  })),
  act(commands.importValues)((p, d) => ({
    values: [{ measurementId: measurement(p, d), potId: pot(p, d), value: d.number() }],
    marks: [{ potId: pot(p, d), mark: 'missing' }],
  })),
  act(commands.markPots)((p, d) => ({
    potIds: [pot(p, d)],
    mark: d.yes() ? { mark: 'dead', date: date(d), reason: 'rot' } : null,
    second: d.yes(),
  })),
  act(commands.settleMark)((p, d) => ({
    potId: pot(p, d),
    mark: d.yes() ? { mark: 'dead', date: date(d), reason: '' } : null,
  })),
  act(commands.notePot)((p, d) => ({
    potId: pot(p, d),
    note: { text: d.yes() ? 'yellow' : '', files: d.yes() ? ['photos/1.jpg'] : [] },
  })),
  act(commands.dateValues)((p, d) => ({
    measurementId: measurement(p, d),
    potIds: [pot(p, d), pot(p, d)],
    day: d.yes() ? date(d) : null,
  })),
  act(commands.setTare)((p, d) => ({
    measurementId: measurement(p, d),
    tare: d.yes() ? 2.5 : 0,
  })),
  act(commands.settleValue)((p, d) => ({
    measurementId: measurement(p, d),
    potId: pot(p, d),
    value: d.number(),
  })),
  act(commands.addIncident)((_p, d) => ({ date: date(d), text: 'pump off', about: [] })),
  act(commands.editIncident)((p, d) => ({
    incidentId: d.one(
      p.records.incidents.map((i) => i.id),
      'i999',
    ),
    patch: { date: date(d) },
  })),
  act(commands.removeIncident)((p, d) => ({
    incidentId: d.one(
      p.records.incidents.map((i) => i.id),
      'i999',
    ),
  })),
  act(commands.logDelivered)((_p, d) => ({
    entries: [
      {
        unitId: d.one(['t1', 't2', 'b1'], 'z999'),
        date: date(d),
        figures: d.yes() ? { ec: d.number(), ph: 6 } : { ec: null, ph: 5.8 },
      },
    ],
  })),
  act(commands.removeDelivered)((_p, d) => ({
    unitId: d.one(['t1', 't2', 'b1'], 'z999'),
    date: date(d),
  })),
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
  act(commands.reportAsCase)((p, d) => ({
    ...{ factorId: factor(p, d), kind: 'factor-not-replicated', why: name(d), date: null },
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
  act(commands.withdrawAcceptance)(() => ({ kind: 'low-power', about: ['plan'] })),
];

const numbers = [0, 1, 2, 3, 0.3, 12.25, 100, 430.06, -7, 1e9, Number.NaN, Infinity, 250, 1.5];

function diceOf(throws: readonly number[]): Dice {
  let at = 0;
  const next = () => throws[at++ % throws.length] ?? 0;
  return {
    one: (list, stranger) => {
      const n = next();
      return n % 11 === 10 ? stranger : (list[n % Math.max(list.length, 1)] ?? stranger);
    },
    number: () => numbers[next() % numbers.length] ?? 0,
    yes: () => next() % 2 === 0,
  };
}

/**
 * The sample with a given factor, a meter reading, a rota of tray moves and its shelves numbered
 * from the top.
 */
function busyPlan(): Plan {
  const plan = samplePlan();
  const [low, high] = plan.rack.shelves;
  if (!low || !high || !plan.trial) throw new Error('the sample has two shelves and a trial');
  const factors = plan.trial.factors.map((f) => ({ ...f, kind: 'fixed' as const }));
  const at = { shelfId: 's1', xMm: 10, yMm: 10, zMm: 90, value: 210 };
  const meter = { unit: 'ppfd' as const, luxPerPpfd: null, date: null, note: '' };
  return {
    ...plan,
    rack: {
      ...plan.rack,
      shelves: [
        { ...low, number: 2 },
        { ...high, number: 1 },
      ],
    },
    light: {
      ...plan.light,
      readings: [{ id: 'r8', ...at, ...meter }],
      rota: [{ fromDay: 3, toDay: 9, places: { t1: { placeOf: 't1', turned: true } } }],
    },
    trial: { ...plan.trial, factors },
  };
}

/** Drawn and planted, with two weighed plants that no pot was left for. */
const withSpares: Plan = {
  ...drawnPlan('2026-03-02'),
  plants: ['S1', 'S2'].map((code) => ({ code, startValue: 2.5 })),
};

/** Light fixed by hand: shelf 2 is to be dimmed, and is drawn at full output. */
const setByHand: Plan = withSettings(
  withFactor({ ...drawnWithWater(), layout: null, nextId: 50 }, 'f1', {
    kind: 'fixed',
    where: [{ unitId: 's2', levelId: 'v2' }],
  }),
  { v2: { through: 'light', dimming: 0.5 } },
);

const starts = [
  setByHand,
  drawnPlan(),
  drawnPlan('2026-03-02'),
  samplePlan(),
  busyPlan(),
  withSpares,
  emptyPlan('New'),
];

const sequences = fc.array(
  fc.record({
    move: fc.nat(moves.length - 1),
    throws: fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }),
  }),
  { minLength: 1, maxLength: 40 },
);

describe('any sequence of commands', () => {
  it('covers every command', () => {
    expect(moves.map(({ name }) => name).sort()).toEqual(
      [...Object.keys(commands), 'seenFrom'].sort(),
    );
  });

  it('keeps the plan sound, and undo and redo return the identical plans', () => {
    fc.assert(
      fc.property(sequences, fc.constantFrom(...starts), (sequence, start) => {
        const frozen = writePlan(start);
        let plan = start;
        let history = emptyHistory;
        const plans = [plan];
        for (const { move, throws } of sequence) {
          const outcome = moves[move]?.make(plan, diceOf(throws));
          if (!outcome) throw new Error(`no move ${move}`);
          if (!outcome.ok) {
            expect(outcome.reason).toMatch(/\.$/);
            continue;
          }
          if (outcome.plan === plan) continue;
          expect(planSchema.parse(outcome.plan)).toEqual(outcome.plan);
          for (const { id } of runsOf(outcome.plan)) {
            expect(findInconsistency(seenFrom(outcome.plan, id))).toBeNull();
          }
          expect(outcome.plan.nextId).toBeGreaterThanOrEqual(plan.nextId);
          const step = { label: outcome.label, before: plan, after: outcome.plan, mergeKey: null };
          history = recordStep(history, step);
          plan = outcome.plan;
          plans.push(plan);
        }
        const saved = seenFromLast(plan);
        expect(readPlan(writePlan(plan))).toEqual({ ok: true, plan: saved, migratedFrom: null });
        for (const expected of plans.slice(0, -1).reverse()) {
          const undone = undoStep(history);
          expect(undone?.plan).toBe(expected);
          if (undone) history = undone.history;
        }
        expect(undoStep(history)).toBeNull();
        for (const expected of plans.slice(1)) {
          const redone = redoStep(history);
          expect(redone?.plan).toBe(expected);
          if (redone) history = redone.history;
        }
        expect(writePlan(start)).toBe(frozen);
      }),
      { numRuns: 1200, seed: 20260301 },
    );
  });

  it('never changes the treatment under a value unless the layout logs an exchange', () => {
    const harvest = { m2: { 't1:1:1': 12, 't1:2:3': 9, 't2:1:2': 14 } };
    const recorded = starts
      .filter((start) => start.layout !== null)
      .map((start) => ({ ...start, records: { ...start.records, values: harvest } }));
    const thrown = fc.sample(fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }), {
      numRuns: 12,
      seed: 20260301,
    });
    for (const start of recorded) {
      const plantIn = (plan: Plan, id: string) =>
        plan.layout?.assignments.find(({ potId }) => potId === id);
      for (const { make } of moves) {
        for (const throws of thrown) {
          const made = make(start, diceOf(throws));
          const outcome = made.ok ? { ...made, plan: seenFrom(made.plan, start.runId) } : made;
          if (!outcome.ok || outcome.plan.layout?.swaps.length !== start.layout?.swaps.length) {
            expect(outcome.ok && outcome.plan.layout === null).toBe(false);
            continue;
          }
          const pots = new Set(potsOfRack(outcome.plan.rack).map(({ id }) => id));
          for (const id of Object.keys(outcome.plan.records.values['m2'] ?? {})) {
            expect(pots.has(id)).toBe(true);
            if (harvest.m2[id as keyof typeof harvest.m2] === undefined) continue;
            expect(plantIn(outcome.plan, id)).toEqual(plantIn(start, id));
          }
        }
      }
    }
  });

  // A property over commands that are always refused would say nothing.
  it('lets each command change some plan', () => {
    const throws = fc.sample(fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }), {
      numRuns: 16,
      seed: 20260301,
    });
    const changedSome = new Set<string>();
    for (const start of starts) {
      for (const thrown of throws) {
        let plan = start;
        for (const { name, make } of [...moves, ...moves]) {
          const fresh = make(start, diceOf(thrown));
          if (fresh.ok && fresh.plan !== start) changedSome.add(name);
          const outcome = make(plan, diceOf(thrown));
          if (!outcome.ok || outcome.plan === plan) continue;
          changedSome.add(name);
          plan = outcome.plan;
        }
      }
    }
    expect(moves.map(({ name }) => name).filter((name) => !changedSome.has(name))).toEqual([]);
  });
});

import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { slipsOfMeasurement, type SlipSource } from '../../../renderer/document/records';
import { potsOfRack } from '../../../renderer/engine/geometry';
import { rackOf } from '../../builders/trialInput';
import { samplePlan } from '../../builders/samplePlan';

/*
 * Trials as they are: plants log-normal with a coefficient of variation of 10 to 40 %, means that
 * grow twofold to sixtyfold, up to four treatments that differ up to threefold, weights at the start
 * that carry on more or less. Values come in one by one.
 */

const TRIALS = 2000;
const FIRST = 3;
const LATER = 5;
const pots = potsOfRack(rackOf({ shelves: 1, traysPerShelf: 3, rows: 1, columns: 4 })).slice(
  0,
  FIRST + LATER,
);
const [start, harvest] = samplePlan().trial?.measurements ?? [];

type Weights = Record<string, number>;
interface Trial {
  before: Weights;
  values: Weights;
  treatmentOf: ReadonlyMap<string, string>;
}

function soundTrial(random: () => number): Trial {
  const between = (least: number, most: number) => least + (most - least) * random();
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const apart = between(0, Math.log(3));
  const least = between(Math.log(2), Math.log(60) - apart);
  const growths = [0, apart, between(0, apart), between(0, apart)].slice(
    0,
    2 + Math.floor(between(0, 3)),
  );
  const [size, carried] = [between(0.5, 5), random()];
  const [sd, startSd] = [between(0.1, 0.4), between(0.1, 0.3)].map((cv) =>
    Math.sqrt(Math.log1p(cv ** 2)),
  );
  const trial = { before: {}, values: {}, treatmentOf: new Map<string, string>() };
  for (const { id } of pots) {
    const t = Math.floor(between(0, growths.length));
    const early = (startSd ?? NaN) * normal();
    const late = least + (growths[t] ?? NaN) + carried * early + (sd ?? NaN) * normal();
    Object.assign(trial.before, { [id]: size * Math.exp(early) });
    Object.assign(trial.values, { [id]: size * Math.exp(late) });
    trial.treatmentOf.set(id, `t${t}`);
  }
  return trial;
}

/** The pots that are asked about once the first `many` have a value. */
function askedOf({ before, values, treatmentOf }: Trial, many: number, weighed: boolean): string[] {
  if (!start || !harvest) throw new Error('the sample has two measurements');
  const taken = pots.slice(0, many).map(({ id }) => [id, values[id] ?? NaN] as const);
  const source: SlipSource = {
    measurement: { ...harvest, decimals: 3 },
    pots,
    values: Object.fromEntries(taken),
    second: {},
    marks: {},
    before: weighed ? { measurement: start, values: before } : null,
    treatmentOf,
  };
  return slipsOfMeasurement(source).flatMap(({ potId, kind }) =>
    kind === 'off-by-factor' || kind === 'shrank' ? [potId] : [],
  );
}

describe.each([
  ['weighed at the start', true],
  ['not weighed before', false],
])('the first three pots of a harvest, %s', (_, weighed) => {
  it('are hardly ever asked about where they are sound', () => {
    const random = seedrandom('sound first pots');
    let asked = 0;
    for (let n = 0; n < TRIALS; n++) {
      const trial = soundTrial(random);
      const odd = new Set([1, 2, 3].flatMap((many) => askedOf(trial, many, weighed)));
      asked += odd.size;
    }
    expect(asked / (FIRST * TRIALS)).toBeLessThan(0.01);
  });

  it.each([
    ['ten times too much', 10, 0.92],
    ['a tenth', 0.1, 0.92],
    ['a thousand times too much', 1000, 0.99],
  ])('are asked about at %s, by the fifth value after at the latest', (__, factor, soon) => {
    const random = seedrandom(`slips by ${factor}`);
    const caught = { soon: 0, later: 0 };
    for (let n = 0; n < TRIALS; n++) {
      const trial = soundTrial(random);
      const at = n % FIRST;
      const id = pots[at]?.id ?? '';
      trial.values[id] = (trial.values[id] ?? NaN) * factor;
      const when = Array.from({ length: LATER + 1 }, (___, i) => i).find((more) =>
        askedOf(trial, at + 1 + more, weighed).includes(id),
      );
      if (when !== undefined && when <= 2) caught.soon += 1;
      if (when !== undefined) caught.later += 1;
    }
    expect(caught.soon / TRIALS).toBeGreaterThan(soon);
    expect(caught.later / TRIALS).toBeGreaterThan(0.97);
  });
});

/**
 * How often counts of plants treated alike are called different where they are few for their coefficients
 * and vary more than Poisson counts: in Latin squares and complete blocks, as the findings judge them, by
 * the model alone, and by square roots.
 */
import {
  analysedOf,
  factorRoles,
  fitModel,
  siteAllocation,
  termOf,
  trialTable,
  type FindingsInput,
  type Question,
} from '../../renderer/engine/findings';
import { drawLayout, measuredPots } from '../../renderer/engine/trial';
import { siteOf } from '../../renderer/engine/trial/site/siteOf';
import { stream, type Stream } from '../../renderer/engine/trial/stream';
import type { FitRequest } from '../../shared-types/fit';
import type { Rack } from '../../shared-types/rack';
import type { Trial } from '../../shared-types/trial/trial';
import type { Measurement, Scale } from '../../shared-types/trial/measurement';
import { drawn, factorOf, rackOf, trialOf } from '../builders/trialInput';

export interface CountCase {
  name: string;
  rack: Rack;
  levels: number;
  trial: Partial<Trial>;
}

export const countCases: readonly CountCase[] = [
  {
    name: '5 × 5 Latin square',
    rack: rackOf({ shelves: 1, traysPerShelf: 1, rows: 5, columns: 5 }),
    levels: 5,
    trial: { scheme: 'latin-square' },
  },
  {
    name: 'four blocks of four',
    rack: rackOf({ shelves: 4, traysPerShelf: 1, rows: 2, columns: 2 }),
    levels: 4,
    trial: { scheme: 'complete-blocks', blocks: { by: 'tray' } },
  },
  {
    name: 'four blocks of five, three pots of each',
    rack: rackOf({ shelves: 4, traysPerShelf: 1, rows: 3, columns: 5 }),
    levels: 5,
    trial: { scheme: 'complete-blocks', blocks: { by: 'tray' } },
  },
];

/** A gamma variate of mean 1 (Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26, 363–372). */
function gamma(shape: number, random: Stream): number {
  if (shape < 1) return (gamma(shape + 1, random) * (shape + 1) * luck(random, shape)) / shape;
  const d = shape - 1 / 3;
  for (;;) {
    const x = random.normal();
    const v = (1 + x / Math.sqrt(9 * d)) ** 3;
    if (v > 0 && Math.log(random.fraction()) < 0.5 * x * x + d - d * v + d * Math.log(v)) {
      return (d * v) / shape;
    }
  }
}

const luck = (random: Stream, shape: number): number => random.fraction() ** (1 / shape);

/** Poisson number by inversion; means up to some hundred. */
function poisson(mean: number, random: Stream): number {
  let term = Math.exp(-Math.min(mean, 600));
  let left = random.fraction() - term;
  let count = 0;
  while (left > 0 && count < 5000) {
    count++;
    term *= mean / count;
    left -= term;
  }
  return count;
}

/** The findings judge both kinds of counts by the same layouts and the same statistic. */
export const analyses = [
  'findings',
  'quasi-poisson model',
  'negative-binomial model',
  'square roots',
] as const;
type Analysis = (typeof analyses)[number];

/** So that 5 % is a whole number of layouts. */
const LAYOUTS = 199;

/** p of the treatment in one set of counts with variance μ + μ²/θ, by each analysis; null: none. */
export function countedAlike(
  one: CountCase,
  { mean, theta }: { mean: number; theta: number },
  seed: string,
): Record<Analysis, number | null> {
  const { rack, levels } = one;
  const measurement: Measurement = {
    id: 'm1',
    name: 'Flowers',
    kind: 'count',
    unit: '',
    decimals: 0,
    timepoint: 'harvest',
    date: '2026-03-30',
    lowest: null,
    highest: null,
    scale: 'quasi-poisson',
  };
  const trial = trialOf([factorOf(1, 'pot', levels)], {
    startDate: '2026-03-02',
    harvestDate: '2026-03-30',
    primaryOutcomeId: 'm1',
    measurements: [measurement],
    ...one.trial,
  });
  const ppfdByPot = new Map<string, number>();
  const from = { rack, trial, ppfdByPot, zones: [] };
  const { layout } = drawLayout({ ...from, seed, ...drawn });
  const random = stream(seed, `${one.name} ${mean} ${theta}`);
  const lines = new Map<string, number>();
  const shift = (line: string): number => {
    const known = lines.get(line) ?? 0.3 * random.normal();
    lines.set(line, known);
    return known;
  };
  const square = one.trial.scheme === 'latin-square';
  const values = measuredPots(rack).map((pot): [string, number] => {
    const place = square ? shift(`x ${pot.xMm}`) + shift(`y ${pot.yMm}`) : shift(pot.trayId);
    return [pot.id, poisson(mean * Math.exp(place) * gamma(theta, random), random)];
  });
  const input: FindingsInput = {
    ...from,
    layout,
    blockByPot: new Map(),
    records: {
      second: {},
      marks: {},
      incidents: [],
      values: { m1: Object.fromEntries(values) },
    },
  };
  const question: Question = { measurement, start: null, index: 'final', days: null };
  const table = trialTable(input, question);
  const { data, design } = analysedOf(table, factorRoles(table, trial.factors), 'quasi-poisson');
  const drawing = siteAllocation(siteOf(from), data, { runs: LAYOUTS, seed });
  const bare = (request: FitRequest): FitRequest => ({
    ...request,
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
  });
  const p = (own: Scale, by: boolean): number | null => {
    // All the layouts that were asked for.
    const asked = { confidence: 0.95, edgeVaries: true, scale: own, whole: true };
    const allocation = by ? drawing : null;
    try {
      const { result } = fitModel(data, design, 'none', { ...asked, allocation }, bare);
      return termOf(result, ['Factor 1'])?.p ?? null;
    } catch {
      return null;
    }
  };
  return {
    findings: p('quasi-poisson', true),
    'quasi-poisson model': p('quasi-poisson', false),
    'negative-binomial model': p('negative-binomial', false),
    'square roots': p('sqrt', false),
  };
}

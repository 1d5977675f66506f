import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { lightVerb } from '../../../electron/batch/verbs/light';
import { emptyPlan } from '../../../renderer/document/new';
import { writeCompact } from '../../../renderer/document/open';
import type { Plan } from '../../../shared-types/plan';
import type { LampKind, Shelf } from '../../../shared-types/rack';
import { kind, lamp, lightPlan, shelf, tray } from '../../engine/light/racks';
import { tempFolder } from '../tempFolder';

interface Figures {
  pots: number;
  mean: number | null;
  min: number | null;
  max: number | null;
  min_to_mean: number | null;
  min_to_max: number | null;
  cv_percent: number | null;
  share_within_10_percent: number | null;
}
type Ranged = Figures & {
  source: string;
  mean_lowest: number | null;
  mean_highest: number | null;
  without_guards: Figures | null;
};
interface Fitted {
  shelf: number;
  factors: { group: string; factor: number }[];
  groups_told_apart: boolean;
  surface: string;
  readings_used: number;
  rms_percent: number;
  left_out_error_percent: number | null;
  readings: {
    reading: string;
    measured: number;
    estimated: number;
    calibrated: number | null;
    off_percent: number | null;
    outlier: boolean;
    unusable: string | null;
  }[];
}
interface Answer {
  pots: {
    pot: string;
    shelf: number;
    tray: string;
    x_mm: number;
    y_mm: number;
    ppfd_umol_m2_s: number;
    dli_mol_m2_d: number;
    source: string;
    ppfd_lowest: number | null;
    ppfd_highest: number | null;
  }[];
  shelves: (Ranged & { shelf: number; height_mm: number; plus_minus_percent: number | null })[];
  trays: (Ranged & { tray: string })[];
  blocks: (Ranged & { block: string })[];
  treatments: (Ranged & { treatment: string })[];
  calibration: Fitted[];
  withheld: (Fitted & { reason: string })[];
  overTrial: {
    days: number;
    as_drawn: Figures;
    with_rota: Figures;
    pots: {
      pot: string;
      ppfd_umol_m2_s: number;
      dli_mol_m2_d: number;
      ppfd_lowest: number;
      ppfd_highest: number;
    }[];
  } | null;
  energy: {
    days: number;
    power_w: number;
    kwh_per_day: number;
    kwh_total: number;
    cost_per_day: number | null;
    cost_total: number | null;
    currency: string;
    shelves: {
      shelf: number;
      kwh_per_day: number;
      mol_per_day: number | null;
      mol_per_kwh: number | null;
      share_on_trays: number | null;
      share_on_pots: number | null;
    }[];
  };
  problems: Record<string, string>;
}

export async function runText(text: string, ...options: string[]) {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, text);
  let [out, err] = ['', ''];
  const code = await runBatch(['light', path, ...options], [lightVerb], {
    out: (words) => void (out += words),
    err: (words) => void (err += words),
  });
  return { code, out, err };
}
export const run = (plan: Plan, ...options: string[]) => runText(writeCompact(plan), ...options);

export async function answerOf(plan: Plan): Promise<Answer> {
  const { code, out, err } = await run(plan);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  expect(out).not.toMatch(/NaN|Infinity/);
  return JSON.parse(out) as Answer;
}

/** A plan of these shelves; ids of shelves, trays and lamps are made unique by the shelf's number. */
export function planOf(
  shelves: Shelf[],
  kinds: LampKind[],
  change: Partial<Plan['light']> = {},
): Plan {
  return {
    ...emptyPlan('light without a window'),
    nextId: 1000,
    rack: {
      lampKinds: kinds,
      shelves: shelves.map((one) => ({
        ...one,
        id: `s${one.number}`,
        trays: one.trays.map((t, i) => ({ ...t, id: `t${100 + 10 * one.number + i}` })),
        lamps: one.lamps.map((l, i) => ({ ...l, id: `l${500 + 10 * one.number + i}` })),
      })),
    },
    light: lightPlan(change),
  };
}

/**
 * Light of a level flat strip on a level receiver h below it, by Simpson's rule over elements that
 * each send I cos γ (inverse square and cosine laws): Φ/(πL) h² ∫ dx / (h² + d² + (x − x₀)²)².
 */
export function stripPpfd(
  flux: number,
  lengthMm: number,
  h: number,
  along: number,
  across: number,
) {
  const n = 2000;
  let sum = 0;
  for (let i = 0; i <= n; i++) {
    const x = -lengthMm / 2 + (i * lengthMm) / n;
    const weight = i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight / (h * h + across * across + (x - along) ** 2) ** 2;
  }
  return (1e6 * flux * h * h * sum * (lengthMm / n / 3)) / (Math.PI * lengthMm);
}

/** The figures of evenness by their definitions. */
export function evennessBy(values: number[]): Figures {
  const n = values.length;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const [min, max] = [Math.min(...values), Math.max(...values)];
  const s = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1));
  return {
    pots: n,
    mean,
    min,
    max,
    min_to_mean: min / mean,
    min_to_max: min / max,
    cv_percent: (100 * s) / mean,
    share_within_10_percent: values.filter((v) => Math.abs(v / mean - 1) <= 0.1).length / n,
  };
}

export function expectFigures(found: Figures | undefined, wanted: Figures): void {
  for (const [name, value] of Object.entries(wanted) as [keyof Figures, number][]) {
    expect(found?.[name], name).toBeCloseTo(value, 6);
  }
}

/** 2800 lm at 70 lm per µmol/s, which may be 62 to 76: 40 µmol/s, 36.84 to 45.16. */
export const lumens = kind({
  output: { kind: 'lumens', lumens: 2800, lumensPerUmolS: 70, lowest: 62, highest: 76 },
});
export const HEIGHT = 120;
export const strips = [150, 450].map((yMm) => lamp({ yMm, zMm: 380, dimming: 0.5 }));
export const potPlaces = [0, 1, 2].flatMap((row) =>
  [0, 1, 2, 3, 4, 5].map((column) => ({ row, column, x: 100 + 200 * column, y: 100 + 200 * row })),
);
export const wanted = potPlaces.map(({ x, y }) =>
  [150, 450].reduce((sum, at) => sum + stripPpfd(20, 1200, 380 - HEIGHT, x - 600, y - at), 0),
);
export const bare = shelf({
  canopy: { plantingMm: HEIGHT, harvestMm: 250 },
  trays: [tray()],
  lamps: strips,
});

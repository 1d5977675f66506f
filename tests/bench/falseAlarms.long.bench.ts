/**
 * Rates of false alarms, stored with their seed in tests/bench/false-alarms.json. The numbers of sets
 * can be given: EVENRACK_SETS (trays), EVENRACK_LAYOUTS (fields), EVENRACK_WINDOWS (any of six models).
 */
import { readFileSync, writeFileSync } from 'node:fs';
import type { PositionModel } from '../../shared-types/trial/position';
import {
  fieldAlarms,
  PLACE_MODELS,
  shareBelow,
  shareOfAny,
  trayAlarms,
  windowAlarms,
  type Field,
} from './falseAlarms';

const SEED = 'false alarms 1';
const file = 'tests/bench/false-alarms.json';
const sets = Number(process.env['EVENRACK_SETS'] ?? 10_000);
const layouts = Number(process.env['EVENRACK_LAYOUTS'] ?? 10_000);
const windows = Number(process.env['EVENRACK_WINDOWS'] ?? 2_000);

type Stored = Record<string, unknown>;

function store(name: string, ps: readonly (number | null)[]): void {
  keep(name, { at5: shareBelow(ps, 0.05), at1: shareBelow(ps, 0.01) });
}

function keep(name: string, rates: Record<string, unknown>): void {
  let known: Stored = {};
  try {
    known = JSON.parse(readFileSync(file, 'utf8')) as Stored;
  } catch {
    // The first case makes the file.
  }
  console.log(name, JSON.stringify(rates));
  known[name] = { seed: SEED, ...rates };
  writeFileSync(file, `${JSON.stringify(known, null, 2)}\n`);
}

const fields: Field[] = ['barley', 'radish'];
const models: PositionModel[] = ['smooth', 'ar1', 'rows+columns', 'none'];
if (sets > 0) {
  for (const variance of [0, 0.1, 0.5]) {
    const { feed = [], cultivar = [] } = trayAlarms(variance, sets, SEED);
    store(`feed by tray, tray variance ${variance}`, feed);
    store(`cultivar by pot, tray variance ${variance}`, cultivar);
  }
}
if (layouts > 0) {
  for (const model of models) {
    for (const field of fields)
      store(`${field}, ${model}`, fieldAlarms(field, model, layouts, SEED));
  }
}
// Stored as it goes, for a set takes a quarter of a second.
const found: Record<string, number | null>[] = [];
while (found.length < windows) {
  const to = Math.min(windows, found.length + 50);
  found.push(...windowAlarms({ from: found.length, to }, SEED));
  for (const model of PLACE_MODELS) {
    const ps = found.map((one) => one[model] ?? null);
    store(`radish windows, ${model}`, ps);
  }
  keep('radish windows, any of six models', {
    at5: shareOfAny(found, 0.05),
    at1: shareOfAny(found, 0.01),
  });
}

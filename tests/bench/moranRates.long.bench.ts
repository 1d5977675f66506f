import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import seedrandom from 'seedrandom';
import { fit } from '../../renderer/engine/stats/fit';
import { fitRequestSchema } from '../../shared-types/fit';

// How often Moran's I of the residuals calls a pattern where there is none: 1,000 sets of pure noise
// a model, on nine trays of 3 × 4 pots, with a treatment of pots. EVENRACK_MODEL=smooth measures one
// model alone; EVENRACK_STORE=1 puts the rates into moran-rates.json, which lies beside it.

const SETS = 1000;
const TRAYS = 9;
const POTS = 12 * TRAYS;
const place = { row: 'row', column: 'col', within: ['tray'] };

const models: Readonly<Record<string, object>> = {
  none: {},
  'rows+columns': { position: { ...place, model: 'rows+columns' } },
  smooth: { position: { ...place, model: 'smooth' } },
  ar1: { position: { ...place, model: 'ar1' } },
  units: { randomUnits: [['tray']], denominator: 'units' },
  'random trays': { randomUnits: [['tray']], denominator: 'satterthwaite' },
};

interface Rates {
  readonly sets: number;
  /** Sets in which the check gave no p. */
  readonly without: number;
  readonly below5: number;
  readonly below1: number;
}

/** By the sides alone, and with the corners too. */
function ratesOf(name: string, model: object): Record<string, Rates> {
  const random = seedrandom(`moran ${name}`);
  const normal = (): number =>
    Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const each = <T>(make: (i: number) => T): T[] => Array.from({ length: POTS }, (_, i) => make(i));
  const request = fitRequestSchema.parse({
    response: 'y',
    treatments: ['feed'],
    checks: ['moran'],
    moran: { ...place, neighbours: 'rook' },
    ...model,
  });
  const found: (Record<string, number | null> | undefined)[] = [];
  for (let set = 0; set < SETS; set++) {
    const columns = {
      tray: each((i) => `t${Math.floor(i / 12)}`),
      row: each((i) => Math.floor((i % 12) / 4)),
      col: each((i) => i % 4),
      feed: each((i) => `f${(i * 7) % 3}`),
      y: each(normal),
    };
    found.push(fit(request, { columns, rowCount: POTS }).checks['moran']);
  }
  const rates = (key: string): Rates => {
    const p = found.flatMap((check) => check?.[key] ?? []);
    const below = (level: number): number => p.filter((value) => value < level).length / SETS;
    return { sets: SETS, without: SETS - p.length, below5: below(0.05), below1: below(0.01) };
  };
  return { rook: rates('modelP'), queen: rates('queenModelP') };
}

const file = resolve('tests/bench/moran-rates.json');
const wanted = process.env['EVENRACK_MODEL'];
for (const [name, model] of Object.entries(models)) {
  if (wanted && wanted !== name) continue;
  const start = process.cpuUsage();
  const rates = ratesOf(name, model);
  const { user } = process.cpuUsage(start);
  console.log(`${name}: ${JSON.stringify(rates)}, ${(user / 1e6).toFixed(1)} s of processor time`);
  if (!process.env['EVENRACK_STORE']) continue;
  const stored: unknown = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : {};
  writeFileSync(file, `${JSON.stringify({ ...(stored as object), [name]: rates }, null, 2)}\n`);
}

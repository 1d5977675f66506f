import type { Layout } from '../../../../shared-types/layout';
import type { Trial } from '../../../../shared-types/trial/trial';
import { blocksOf } from '../blocks/blocks';
import { lightWithin } from '../lightWithin';
import { measuredPots } from '../measuredPots';
import type { TrialInput } from '../input';
import { efficiencyFactor, meanEfficiency } from '../schemes/efficiency';
import { treatmentKey, treatmentsOf } from '../treatments';
import { Refusal } from '../../../words';
import { add, real } from '../../entry';

/**
 * Efficiency of complete blocks against none: how many times as many replicates a trial without
 * these blocks would need. RE = [(r − 1)E_b + r(t − 1)E_e]/[(rt − 1)E_e] for r blocks of t pots with
 * mean squares E_b between and E_e within blocks (Cochran & Cox 1957, Experimental Designs, 4.37).
 */
export function blockEfficiency(design: {
  blocks: number;
  potsPerBlock: number;
  blockMs: number;
  errorMs: number;
}): number {
  const { blocks: r, potsPerBlock: t, blockMs, errorMs } = design;
  if (!(errorMs > 0)) {
    throw new Refusal(
      `block efficiency: an error mean square of ${errorMs} was found; above 0 is expected`,
    );
  }
  return ((r - 1) * blockMs + r * (t - 1) * errorMs) / ((r * t - 1) * errorMs);
}

/** What the smaller error degrees of freedom of r blocks of t cost (Fisher 1935): a factor below 1. */
export function smallSampleFactor(blocks: number, potsPerBlock: number): number {
  const f1 = (blocks - 1) * (potsPerBlock - 1);
  const f2 = potsPerBlock * (blocks - 1);
  return ((f1 + 1) * (f2 + 3)) / ((f1 + 3) * (f2 + 1));
}

/**
 * Efficiency of a Latin square of order n against no blocks, rows alone and columns alone
 * (Cochran & Cox 1957, 4.37).
 */
export function latinEfficiency(square: {
  order: number;
  rowMs: number;
  columnMs: number;
  errorMs: number;
}): { againstNone: number; againstRows: number; againstColumns: number } {
  const { order: n, rowMs, columnMs, errorMs } = square;
  if (!(errorMs > 0)) {
    throw new Refusal(
      `square efficiency: an error mean square of ${errorMs} was found; above 0 is expected`,
    );
  }
  return {
    againstNone: (rowMs + columnMs + (n - 1) * errorMs) / ((n + 1) * errorMs),
    againstRows: (columnMs + (n - 1) * errorMs) / (n * errorMs),
    againstColumns: (rowMs + (n - 1) * errorMs) / (n * errorMs),
  };
}

/**
 * Average efficiency factor of a layout's treatments in its blocks: the share of the information on
 * treatments that comparisons within blocks keep. 1 in complete blocks; below 1 in incomplete ones.
 */
export function layoutEfficiency(
  trial: Pick<Trial, 'factors'>,
  layout: Pick<Layout, 'assignments'>,
): number {
  const keys = treatmentsOf(trial).map((treatment) => treatment.key);
  const blocks = new Map<string, number[]>();
  for (const { block, levels } of layout.assignments) {
    const key = treatmentKey(trial, levels);
    const treatment = keys.indexOf(key);
    if (treatment < 0)
      throw new Refusal(`layout: treatment ${key} was found; one of the trial's is expected`);
    const own = blocks.get(block);
    if (own) own.push(treatment);
    else blocks.set(block, [treatment]);
  }
  return efficiencyFactor([...blocks.values()], keys.length);
}

/**
 * The same with rows and columns of pots allowed for instead of blocks, each within its tray: 1 in a
 * Latin square, λt/(rk) in a Youden square, 0 where rows and columns leave some treatments apart.
 */
export function lineEfficiency(input: TrialInput, layout: Pick<Layout, 'assignments'>): number {
  const keys = treatmentsOf(input.trial).map((treatment) => treatment.key);
  const byPot = new Map(layout.assignments.map((a) => [a.potId, a] as const));
  const pots = measuredPots(input.rack).filter((pot) => byPot.has(pot.id));
  const indicators = (classes: readonly string[]): Float64Array[] =>
    [...new Set(classes)].map((own) =>
      Float64Array.from(classes, (name) => (name === own ? 1 : 0)),
    );
  const basis = orthonormal([
    ...indicators(pots.map((pot) => `${pot.trayId} row ${pot.row}`)),
    ...indicators(pots.map((pot) => `${pot.trayId} column ${pot.column}`)),
  ]);
  const treatments = keys.map((key) =>
    Float64Array.from(pots, (pot) =>
      treatmentKey(input.trial, byPot.get(pot.id)?.levels ?? {}) === key ? 1 : 0,
    ),
  );
  const replication = treatments.map((column) => column.reduce((sum, one) => sum + one, 0));
  const left = treatments.map((column) => sweptOut(Float64Array.from(column), basis));
  return meanEfficiency(
    left.map((a) => left.map((b) => dot(a, b))),
    replication,
  );
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += real(a, i) * real(b, i);
  return sum;
}

/** Takes what a column shares with an orthonormal basis out of it, twice against rounding. */
function sweptOut(column: Float64Array, basis: readonly Float64Array[]): Float64Array {
  for (let pass = 0; pass < 2; pass++) {
    for (const direction of basis) {
      const part = dot(direction, column);
      for (let i = 0; i < column.length; i++) {
        add(column, i, -part * real(direction, i));
      }
    }
  }
  return column;
}

function orthonormal(columns: readonly Float64Array[]): Float64Array[] {
  const basis: Float64Array[] = [];
  for (const column of columns) {
    const before = dot(column, column);
    const left = sweptOut(Float64Array.from(column), basis);
    const length = Math.sqrt(dot(left, left));
    if (length * length > 1e-9 * before) basis.push(left.map((value) => value / length));
  }
  return basis;
}

export interface LightInBlocks {
  /** Coefficients of variation of the PPFD: of all pots, and pooled within blocks. */
  cvAll: number;
  cvWithin: number;
  /** Share of the light's sum of squares that lies between blocks. */
  shareBetween: number;
  /** Expected efficiency of the blocks against none; null where light alone leaves no error. */
  relativeEfficiency: number | null;
}

/**
 * What the blocks take up of the uneven light. With plant-to-plant spread and the response to light
 * known, the efficiency is that expected of the trial; without them, that for light alone. null
 * where the light is not known at every measured pot.
 */
export function lightInBlocks(
  input: TrialInput,
  response?: { plantSd: number; perUmol: number },
): LightInBlocks | null {
  const pots = measuredPots(input.rack);
  const ppfdByPot = lightWithin(input.trial.factors, pots, input.ppfdByPot);
  if (pots.length < 2 || pots.some((pot) => !ppfdByPot.has(pot.id))) return null;
  const blocks = blocksOf(input).map((block) => block.potIds.map((id) => ppfdByPot.get(id) ?? 0));
  const n = pots.length;
  const mean = blocks.flat().reduce((sum, value) => sum + value, 0) / n;
  let within = 0;
  let between = 0;
  for (const block of blocks) {
    const own = block.reduce((sum, value) => sum + value, 0) / block.length;
    between += block.length * (own - mean) ** 2;
    for (const value of block) within += (value - own) ** 2;
  }
  const dfBetween = blocks.length - 1;
  const dfWithin = n - blocks.length;
  const noise = response ? response.plantSd ** 2 : 0;
  const scale = response ? response.perUmol ** 2 : 1;
  const errorMs = dfWithin > 0 ? noise + (scale * within) / dfWithin : 0;
  const blockMs = dfBetween > 0 ? noise + (scale * between) / dfBetween : errorMs;
  return {
    cvAll: mean > 0 ? Math.sqrt((within + between) / (n - 1)) / mean : 0,
    cvWithin: mean > 0 && dfWithin > 0 ? Math.sqrt(within / dfWithin) / mean : 0,
    shareBetween: within + between > 0 ? between / (within + between) : 0,
    relativeEfficiency:
      errorMs > 0
        ? blockEfficiency({
            blocks: blocks.length,
            potsPerBlock: n / blocks.length,
            blockMs,
            errorMs,
          })
        : null,
  };
}

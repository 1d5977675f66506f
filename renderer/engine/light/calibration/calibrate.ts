import type { LightReading } from '../../../../shared-types/light';
import type { ShelfModel } from '../model';
import { implausibleIn, type Implausible, type ReadingAgainstOthers } from './implausible';
import { fitScales, type GroupScale } from './scales';
import {
  MOST_SITES,
  rootMeanSquare,
  smoothSurface,
  type SurfacePoint,
  type Smooth,
} from './smooth';
import { num, real } from '../../entry';

/** One reading beside what the figures predict for its place. */
export interface CheckedReading {
  readingId: string;
  /** µmol m⁻² s⁻¹; lux converted by the reading's own factor. */
  measuredUmol: number;
  estimatedUmol: number;
  /** After calibration; null for a reading that could not be used. */
  calibratedUmol: number | null;
  /** 100 · (measured − calibrated) / calibrated. */
  residualPercent: number | null;
  /** Too far from the rest to be believed; left out of the fit. */
  outlier: boolean;
  /** Why it could not be used at all. */
  unusable: string | null;
}

/** How meter readings correct a shelf's estimate. */
export interface Calibration {
  /** Factor on each lamp group. */
  scales: readonly GroupScale[];
  /** Whether the readings tell the groups apart; else one factor serves all. */
  separate: boolean;
  /** Whether a smooth surface over the shelf is multiplied in as well. */
  surface: 'none' | 'plane' | 'smooth';
  readings: CheckedReading[];
  /** How many readings the fit rests on. */
  used: number;
  rmsPercent: number;
  /** Root mean square error of readings left out of the fit in turn; null for fewer than three. */
  leftOutPercent: number | null;
  /** What makes the readings too strange to be believed; null where nothing does. */
  implausible: Implausible | null;
  scaleOf: (group: string) => number;
  correctionAt: (xMm: number, yMm: number) => number;
}

interface Row {
  reading: LightReading;
  measured: number;
  byGroup: number[];
  estimated: number;
  x: number;
  y: number;
}

interface Fit {
  scales: number[];
  separate: boolean;
  predicted: (row: Row) => number;
  surface: Smooth;
  correction: (x: number, y: number) => number;
}

/** A reading in PPFD (µmol m⁻² s⁻¹), or why it has none. */
export function readingPpfd(reading: LightReading): number | string {
  if (reading.unit === 'ppfd') return reading.value;
  if (reading.luxPerPpfd === null) return 'in lux without a conversion factor';
  return reading.value / reading.luxPerPpfd;
}

// A left-out residual this many robust standard deviations from the rest, and this large, is an
// outlier.
const WILD_DEVIATIONS = 4.5;
const WILD_SHARE = 0.2;
const FEWEST_TO_JUDGE = 6;
// A good meter under good care does not repeat itself better than this.
const METER_NOISE = 0.02;
const MOST_FOLDS = 40;

/**
 * Calibrates a shelf's model by its readings: a non-negative factor per lamp group by relative
 * least squares, then a smooth multiplying surface chosen by left-out error. Outliers are
 * taken out one by one, the worst first, and named. Readings that do not hold for the lamps as they
 * hang are not used. Null where no reading can be used.
 */
export function calibrate(
  model: ShelfModel,
  readings: readonly LightReading[],
  span: { widthMm: number; depthMm: number },
  holds: (reading: LightReading) => boolean = () => true,
): Calibration | null {
  const size = Math.max(span.widthMm, span.depthMm);
  const unusable = new Map<string, string>();
  const rows = rowsOf(model, readings, span, holds, unusable);
  if (rows.length === 0) return null;
  const kept = withoutOutliers(rows);
  const fit = fitOf(kept);
  const outliers = new Set(rows.filter((row) => !kept.includes(row)).map((row) => row.reading.id));
  const checked = readings.map((reading): CheckedReading => {
    const row = rows.find((r) => r.reading.id === reading.id);
    if (!row) {
      const ppfd = readingPpfd(reading);
      return {
        readingId: reading.id,
        measuredUmol: typeof ppfd === 'number' ? ppfd : 0,
        estimatedUmol: 0,
        calibratedUmol: null,
        residualPercent: null,
        outlier: false,
        unusable: unusable.get(reading.id) ?? null,
      };
    }
    const calibrated = fit.predicted(row) * fit.correction(row.x, row.y);
    return {
      readingId: reading.id,
      measuredUmol: row.measured,
      estimatedUmol: row.estimated,
      calibratedUmol: calibrated,
      residualPercent: calibrated > 0 ? 100 * (row.measured / calibrated - 1) : null,
      outlier: outliers.has(reading.id),
      unusable: null,
    };
  });
  const residuals = checked.filter((c) => !c.outlier).map((c) => c.residualPercent ?? 0);
  const { smoothing } = fit.surface;
  const scales = model.groups.map((group, i) => ({ group, scale: fit.scales[i] ?? 1 }));
  const leftOut = leftOutOf(kept, fit);
  return {
    scales,
    separate: fit.separate,
    surface: Number.isNaN(smoothing) ? 'none' : smoothing === Infinity ? 'plane' : 'smooth',
    readings: checked,
    used: kept.length,
    rmsPercent: rootMeanSquare(residuals),
    leftOutPercent: leftOut && rootMeanSquare(leftOut.map(({ percent }) => percent)),
    implausible: implausibleIn(scales, leftOut ?? []),
    scaleOf: (group) => fit.scales[model.groups.indexOf(group)] ?? 1,
    correctionAt: (xMm, yMm) => fit.correction(xMm / size, yMm / size),
  };
}

/** Why a reading is not used that was taken of other lamps than hang now. */
export const BEFORE_CHANGE = 'taken before lamps or surfaces were changed';

/** Lamps that were off, or a meter that was, say nothing of how strong the lamps are. */
const NO_SCALE = 'a 0, which tells nothing of how strong the lamps are';

function rowsOf(
  model: ShelfModel,
  readings: readonly LightReading[],
  span: { widthMm: number; depthMm: number },
  holds: (reading: LightReading) => boolean,
  unusable: Map<string, string>,
): Row[] {
  const size = Math.max(span.widthMm, span.depthMm);
  const beside = ({ xMm, yMm }: LightReading) =>
    xMm < 0 || yMm < 0 || xMm > span.widthMm || yMm > span.depthMm;
  const byGroup = model.groups.map((group) => model.at(readings, (g) => (g === group ? 1 : 0)));
  const rows: Row[] = [];
  readings.forEach((reading, i) => {
    const measured = readingPpfd(reading);
    const parts = byGroup.map((values) => real(values, i));
    const estimated = parts.reduce((sum, part) => sum + part, 0);
    if (typeof measured === 'string') unusable.set(reading.id, measured);
    else if (!holds(reading)) unusable.set(reading.id, BEFORE_CHANGE);
    else if (beside(reading)) unusable.set(reading.id, 'taken beside the shelf');
    else if (measured === 0) unusable.set(reading.id, NO_SCALE);
    else if (!(estimated > 0)) unusable.set(reading.id, 'taken where no lamp shines');
    else {
      const [x, y] = [reading.xMm / size, reading.yMm / size];
      rows.push({ reading, measured, byGroup: parts, estimated, x, y });
    }
  });
  return rows;
}

function fitOf(rows: readonly Row[], smoothing?: number): Fit {
  const { scales, separate } = fitScales(
    rows.map((row) => row.byGroup),
    rows.map((row) => row.measured),
  );
  const predicted = (row: Row) =>
    row.byGroup.reduce((sum, part, g) => sum + part * (scales[g] ?? 1), 0);
  const sites: SurfacePoint[] = rows
    .filter((row) => predicted(row) > 0)
    .map((row) => ({ x: row.x, y: row.y, value: row.measured / predicted(row) - 1 }));
  const surface = smoothSurface(sites, smoothing);
  // Away from the readings a surface may run off: it is kept to what was seen.
  const lowest = Math.min(0, ...sites.map((site) => site.value));
  const highest = Math.max(0, ...sites.map((site) => site.value));
  const correction = (x: number, y: number) =>
    1 + Math.max(lowest, Math.min(highest, surface.at(x, y)));
  return { scales, separate, predicted, surface, correction };
}

const median = (values: readonly number[]) => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = num(sorted, middle);
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] ?? upper)) / 2;
};

function withoutOutliers(rows: readonly Row[]): Row[] {
  let kept = [...rows];
  const most = Math.floor(rows.length / 4);
  while (kept.length >= FEWEST_TO_JUDGE && rows.length - kept.length < most) {
    const { surface, predicted } = fitOf(kept);
    const lit = kept.filter((row) => predicted(row) > 0);
    const centre = median(surface.leftOut);
    const away = surface.leftOut.map((residual) => Math.abs(residual - centre));
    const deviation = Math.max(1.4826 * median(away), METER_NOISE);
    const worst = away.indexOf(Math.max(...away));
    const size = num(away, worst);
    if (size < WILD_SHARE || size < WILD_DEVIATIONS * deviation) break;
    const outlier = lit[worst];
    kept = kept.filter((row) => row !== outlier);
  }
  return kept;
}

/**
 * Every reading against a fit that has not seen it; null for fewer than three. Up to 64
 * readings are left out by fitting all anew (in up to 40 parts). Of more, one hardly moves the lamps'
 * factors, so that only the surface is taken without it, in closed form.
 */
function leftOutOf(rows: readonly Row[], fit: Fit): ReadingAgainstOthers[] | null {
  if (rows.length < 3) return null;
  if (rows.length > MOST_SITES) return leftOutOfSurface(rows, fit);
  const folds = Math.min(rows.length, MOST_FOLDS);
  const found: ReadingAgainstOthers[] = [];
  for (let fold = 0; fold < folds; fold++) {
    const rest = fitOf(
      rows.filter((_, i) => i % folds !== fold),
      fit.surface.smoothing,
    );
    rows.forEach((row, i) => {
      if (i % folds !== fold) return;
      found.push(...missOf(row, rest.predicted(row) * rest.correction(row.x, row.y)));
    });
  }
  return found;
}

function leftOutOfSurface(
  rows: readonly Row[],
  { predicted, surface }: Fit,
): ReadingAgainstOthers[] {
  const lit = rows.filter((row) => predicted(row) > 0);
  return lit.flatMap((row, i) => {
    const share = row.measured / predicted(row);
    return missOf(row, predicted(row) * (share - num(surface.leftOut, i)));
  });
}

function missOf(row: Row, expectedUmol: number): ReadingAgainstOthers[] {
  if (!(expectedUmol > 0)) return [];
  const percent = 100 * (row.measured / expectedUmol - 1);
  return [{ readingId: row.reading.id, measuredUmol: row.measured, expectedUmol, percent }];
}

import type { LightReading } from '../../../../shared-types/light';
import type { ShelfModel } from '../model';
import { COVERAGE } from '../range';
import type { PointMm } from '../sources/direct';
import { entry, num, real } from '../../entry';
import { exchangedAmong, type Exchanged } from './exchanged';
import { slipsAmong, type Implausible } from './implausible';
import { judged, METER, ratioOf, weightOf, type EstimateKnown } from './judge';
import { withoutOutliers } from './outliers';
import type { SamplePlace, Regression } from './regression';
import { readingPpfd, readingRows, type Row, type TakenOf } from './rows';
import type { GroupScale } from './scales';
import type { SlipKind } from './slips';

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
  /** The slip of unit or decimal point that it looks like. */
  slip: SlipKind | null;
  /** Why it could not be used at all. */
  unusable: string | null;
}

/** What meter readings say of a shelf's estimate: plain data. */
export interface ReadingsFound {
  /** Factor on each lamp group. */
  scales: readonly GroupScale[];
  /** Whether the readings tell the groups apart; else one factor serves all. */
  separate: boolean;
  /** Whether a smooth surface over the shelf is multiplied in as well. */
  surface: 'none' | 'smooth';
  readings: CheckedReading[];
  /** How many readings the fit rests on. */
  used: number;
  /** Taken of the lamps before a change, and carried over by their ratio to the estimate of then. */
  carried: boolean;
  rmsPercent: number;
  /** Root mean square error of readings left out of the fit in turn; null for fewer than three. */
  leftOutPercent: number | null;
  /** Two readings whose values or places look exchanged. */
  exchanged: Exchanged | null;
  /** What makes the readings too strange to be believed; null where nothing does. */
  implausible: Implausible | null;
  /** What the readings put the lamps at, where it is more than the estimate's ± allows; else null. */
  surprise: { ratio: number; lowest: number; highest: number } | null;
}

/** How meter readings correct a shelf's estimate. */
export interface Calibration extends ReadingsFound {
  scaleOf: (group: string) => number;
  correctionAt: (xMm: number, yMm: number) => number;
  /** For what is left unsure: the fit, its readings' places and what those in lux share. */
  fit: Regression;
  places: readonly PointMm[];
  shared: readonly number[];
  placeOf: (xMm: number, yMm: number, shares: readonly number[]) => SamplePlace;
}

/** Of a lamp as labelled ±10 %, and of a hanging height: see `uncertainty`. */
const USUAL: EstimateKnown = { common: 0.06 };

/** Farther from the estimate than 999 of 1000. */
const SURPRISE = 3.29;

/**
 * Calibrates a shelf's model by its readings, after judging them: see `regression`. What looks like a slip
 * of unit or decimal point is named. Of six or more, single outliers are left out, the worst first; of
 * fewer, or where they are many, the whole set is not believed. Null where no reading can be used.
 */
export function calibrate(
  model: ShelfModel,
  readings: readonly LightReading[],
  span: { widthMm: number; depthMm: number },
  standing: TakenOf = () => 'now',
  known: EstimateKnown = USUAL,
): Calibration | null {
  const size = Math.max(span.widthMm, span.depthMm);
  const { rows, carried, unusable } = readingRows(model, readings, span, standing);
  if (rows.length === 0) return null;
  const uncertainties = known.uncertaintyAt?.(rows.map(({ reading }) => reading)) ?? null;
  const uncertaintyOf = (row: Row) => (uncertainties ? real(uncertainties, rows.indexOf(row)) : 0);
  const slips = slipsAmong(rows);
  const sound = rows.filter((_, i) => entry(slips, i) === null);
  const { kept, fit, leftOut } = withoutOutliers(
    sound.length > 0 ? sound : rows,
    rows.length,
    known,
    uncertaintyOf,
  );
  const implausible = judged({ rows, slips, sound, kept, fit, leftOut, model, known });
  const believed =
    implausible?.kind === 'factor'
      ? model.groups.map((group) => ({ group, scale: ratioOf(rows) }))
      : model.groups.map((group, g) => ({ group, scale: num(fit.scales, g) }));
  const scaleOf = (group: string) => believed.find((s) => s.group === group)?.scale ?? 1;
  const level = believed.length > 0 ? meanScale(kept, fit) : 1;
  const correction = (x: number, y: number) =>
    implausible || fit.sizes.surface === 0 ? 1 : Math.max(0, 1 + fit.surfaceAt(x, y) / level);
  const checked = readings.map((reading): CheckedReading => {
    const at = rows.findIndex((row) => row.reading.id === reading.id);
    const row = rows[at];
    if (!row) return uncheckedOf(reading, unusable.get(reading.id) ?? null);
    const { x, y, shares } = row.sample;
    const scale = shares.reduce((sum, share, g) => sum + share * entry(believed, g).scale, 0);
    const calibrated = row.estimated * scale * correction(x, y);
    return {
      readingId: reading.id,
      measuredUmol: row.measured,
      estimatedUmol: row.estimated,
      calibratedUmol: calibrated,
      residualPercent: calibrated > 0 ? 100 * (row.measured / calibrated - 1) : null,
      outlier: !kept.includes(row),
      slip: entry(slips, at),
      unusable: null,
    };
  });
  const residuals = checked
    .filter(({ outlier, unusable: why }) => !outlier && why === null)
    .map(({ residualPercent }) => residualPercent ?? 0);
  return {
    scales: believed,
    separate: fit.sizes.group > 0,
    surface: fit.sizes.surface > 0 ? 'smooth' : 'none',
    readings: checked,
    used: kept.length,
    carried,
    rmsPercent: rootMeanSquare(residuals),
    leftOutPercent: kept.length < 3 ? null : rootMeanSquare(leftOut.map(({ percent }) => percent)),
    exchanged: exchangedAmong(sound),
    implausible,
    surprise: implausible ? null : surpriseOf(kept, known),
    scaleOf,
    correctionAt: (xMm, yMm) => correction(xMm / size, yMm / size),
    fit,
    places: kept.map(({ reading }) => reading),
    shared: kept.map(({ shared }) => shared),
    placeOf: (xMm, yMm, shares) => ({ x: xMm / size, y: yMm / size, shares }),
  };
}

export function foundBy(calibration: Calibration): ReadingsFound {
  const { scaleOf: _s, correctionAt: _c, placeOf: _p, ...rest } = calibration;
  const { fit: _f, places: _a, shared: _h, ...found } = rest;
  return found;
}

function uncheckedOf(reading: LightReading, unusable: string | null): CheckedReading {
  const ppfd = readingPpfd(reading);
  return {
    readingId: reading.id,
    measuredUmol: typeof ppfd === 'number' ? ppfd : 0,
    estimatedUmol: 0,
    calibratedUmol: null,
    residualPercent: null,
    outlier: false,
    slip: null,
    unusable,
  };
}

const rootMeanSquare = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / Math.max(1, values.length));

/** What the groups' factors come to where the readings are. */
function meanScale(rows: readonly Row[], { scales }: Regression): number {
  const at = ({ sample }: Row) =>
    sample.shares.reduce((sum, share, g) => sum + share * num(scales, g), 0);
  return Math.max(0.05, rows.reduce((sum, row) => sum + at(row), 0) / rows.length);
}

function surpriseOf(rows: readonly Row[], { common }: EstimateKnown): Calibration['surprise'] {
  const ratio = ratioOf(rows);
  const shared = Math.max(...rows.map((row) => row.shared));
  const single = 1 / Math.sqrt(rows.reduce((sum, row) => sum + weightOf(row), 0));
  const deviation = Math.hypot(common, METER, shared, single);
  if (Math.abs(Math.log(ratio)) <= SURPRISE * deviation) return null;
  return { ratio, lowest: 1 - COVERAGE * deviation, highest: 1 + COVERAGE * deviation };
}

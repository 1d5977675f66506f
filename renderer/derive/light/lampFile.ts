import type { LampKind } from '../../../shared-types/rack';
import {
  efficacyUmolJ,
  photonFlux,
  readPhotometry,
  type PhotonFlux,
  type Photometry,
  type PhotometryAnswer,
} from '../../engine/lamps';
import { memo } from '../memo';
import { attempt, type Attempt } from '../trial/trial';

const fileMemo = memo((text: string): PhotometryAnswer => readPhotometry(text), 8);

/** A photometric file understood, or the line where it cannot be. */
export function lampFileOf(text: string): PhotometryAnswer {
  return fileMemo(text);
}

export interface PolarCurve {
  /** `along the lamp`, `across the lamp` or `all round`. */
  name: string;
  /** From straight down; negative on the left half. Degrees. */
  points: { angleDeg: number; candela: number }[];
}

/**
 * Intensity in the plane along the lamp and in the one across it (one curve where the light is the
 * same all round), every `stepDeg` from −180 to 180 degrees.
 */
export function polarCurvesOf(photometry: Photometry, stepDeg = 2.5): PolarCurve[] {
  const plane = (name: string, horizontalDeg: number): PolarCurve => ({
    name,
    points: Array.from({ length: Math.round(360 / stepDeg) + 1 }, (_, i) => {
      const angleDeg = -180 + i * stepDeg;
      const side = angleDeg < 0 ? horizontalDeg + 180 : horizontalDeg;
      return { angleDeg, candela: photometry.intensity(Math.abs(angleDeg), side) };
    }),
  });
  if (photometry.symmetry === 'rotational') return [plane('all round', 0)];
  return [plane('along the lamp', 0), plane('across the lamp', 90)];
}

/** Photons of a lamp at full output and per joule. */
export interface LampOutputFigures {
  flux: PhotonFlux;
  efficacyUmolJ: number | null;
}

const outputMemo = memo(
  (kind: LampKind) =>
    attempt((): LampOutputFigures => ({
      flux: photonFlux(kind),
      efficacyUmolJ: efficacyUmolJ(kind),
    })),
  32,
);

/** What a lamp kind gives at full output, or the sentence why that cannot be said. */
export function lampOutputOf(kind: LampKind): Attempt<LampOutputFigures> {
  return outputMemo(kind);
}

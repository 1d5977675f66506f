import type { Lamp, LampKind, Shelf } from '../../../shared-types/rack';
import { beamExponent } from './beam';
import { frameOf } from './frame';
import { measuredSource, photometryOf } from './measured';
import type { Photometry } from './photometry';
import { photonFlux } from './output';
import { beamPanel, lambertianPanel } from './panel';
import type { LevelSource, Source } from './source';
import { spotSource } from './spot';
import { beamStrip, lambertianStrip, lambertianStripLevel } from './strip';

/** One lamp made ready: its photon flux (µmol s⁻¹) and what one µmol s⁻¹ of it sends where. */
export interface ReadyLamp {
  lampId: string;
  group: string;
  fluxUmolS: number;
  perFlux: Source;
  /** The same for many level receivers, where there is a quicker way. */
  level: LevelSource | null;
}

export interface PointMm {
  xMm: number;
  yMm: number;
  zMm: number;
}

function sourceOf(lamp: Lamp, kind: LampKind, photometry: Photometry | null): Source {
  const frame = frameOf(lamp);
  const length = kind.shape === 'spot' ? 0 : kind.lengthMm;
  const width = kind.shape === 'panel' ? kind.widthMm : 0;
  const { emission } = kind;
  if (photometry) return measuredSource(frame, length, width, photometry);
  const m = emission.kind === 'beam' ? beamExponent(emission.fullAngleDeg) : 1;
  if (length > 0 && width > 0) {
    return m === 1 ? lambertianPanel(frame, length, width) : beamPanel(frame, length, width, m);
  }
  // A plate without a width is a strip; one without any size a point.
  if (length > 0) return m === 1 ? lambertianStrip(frame, length) : beamStrip(frame, length, m);
  return spotSource(frame, m);
}

function levelSourceOf(lamp: Lamp, { shape, emission, lengthMm }: LampKind): LevelSource | null {
  const flat = shape === 'strip' && lengthMm > 0 && emission.kind === 'lambertian';
  return flat ? lambertianStripLevel(frameOf(lamp), lengthMm) : null;
}

/** Finds the lamp's kind. Throws where the list does not hold it. */
function kindOf(lamp: Lamp, lampKinds: readonly LampKind[]): LampKind {
  const kind = lampKinds.find((k) => k.id === lamp.kindId);
  if (!kind) {
    throw new Error(`lamp ${lamp.id}: kind ${lamp.kindId} is not among the plan's lamp kinds`);
  }
  return kind;
}

/** The shelf's lamps made ready for the direct sum. Throws where a lamp makes no sense. */
export function readyLamps(shelf: Shelf, lampKinds: readonly LampKind[]): ReadyLamp[] {
  const ready = new Map<string, { fluxUmolS: number; photometry: Photometry | null }>();
  return shelf.lamps.map((lamp) => {
    const kind = kindOf(lamp, lampKinds);
    let known = ready.get(kind.id);
    if (!known) {
      known = {
        fluxUmolS: photonFlux(kind).umolS,
        photometry: kind.emission.kind === 'file' ? photometryOf(kind) : null,
      };
      ready.set(kind.id, known);
    }
    return {
      lampId: lamp.id,
      group: lamp.group,
      fluxUmolS: known.fluxUmolS * lamp.dimming,
      perFlux: sourceOf(lamp, kind, known.photometry),
      level: levelSourceOf(lamp, kind),
    };
  });
}

/** Direct PPFD (µmol m⁻² s⁻¹) of all lamps on a level, upward facing receiver at each point. */
export function directAtPoints(
  lamps: readonly ReadyLamp[],
  points: readonly PointMm[],
): Float64Array {
  const n = points.length;
  const sum = new Float64Array(n);
  const [xs, ys, zs] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  points.forEach(({ xMm, yMm, zMm }, i) => {
    xs[i] = xMm;
    ys[i] = yMm;
    zs[i] = zMm;
  });
  for (const { fluxUmolS, perFlux, level } of lamps) {
    if (fluxUmolS === 0) continue;
    if (level) {
      level(xs, ys, zs, fluxUmolS, sum);
      continue;
    }
    let i = 0;
    for (const { xMm, yMm, zMm } of points) {
      sum[i] = (sum[i] ?? 0) + fluxUmolS * perFlux(xMm, yMm, zMm, 0, 0, 1);
      i++;
    }
  }
  return sum;
}

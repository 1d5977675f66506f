import type { Emission, Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import {
  faceWidthMm,
  kindOfLamp,
  litSize,
  photometryOf,
  lampFlux,
  type Photometry,
} from '../../lamps';
import { beamExponent } from './beam';
import { distanceTo, lampFrameOf } from './frame';
import { measuredSource } from './measured';
import { beamPanel, lambertianPanel } from './panel';
import type { LevelSource, Source } from './source';
import { spotSource } from './spot';
import {
  beamStrip,
  lambertianStrip,
  lambertianStripLevel,
  lambertianStripWithin,
  type SourceWithin,
} from './strip';
import { stripOfWidth } from './width';
import { Refusal } from '../../../words';
import { add } from '../../entry';

/** One lamp made ready: its photon flux (µmol s⁻¹) and what one µmol s⁻¹ of it sends where. */
export interface ReadyLamp {
  lampId: string;
  group: string;
  fluxUmolS: number;
  perFlux: Source;
  /** The same for many level receivers, where there is a quicker way. */
  level: LevelSource | null;
  /** Of its light, the share that a patch of a face may miss; absent: next to nothing. */
  mayMiss?: number;
  /** Whether something between hides part of it from some points. */
  shadowed?: true;
  /** From a point to the nearest of the lit face, about, mm. */
  awayMm: (x: number, y: number, z: number) => number;
  /** How far a point lies in front of the plane of the lit face, mm. */
  frontMm: (x: number, y: number, z: number) => number;
}

export interface PointMm {
  xMm: number;
  yMm: number;
  zMm: number;
}

function sourceOf(lamp: Lamp, kind: LampKind, photometry: Photometry | null): Source {
  const frame = lampFrameOf(lamp);
  const { lengthMm, widthMm } = litSize(kind);
  const across = faceWidthMm(kind);
  if (photometry) {
    const measured = (width: number) => measuredSource(frame, lengthMm, width, photometry);
    return widthMm < across && lengthMm > 0
      ? stripOfWidth(frame, across, measured(widthMm), measured(across))
      : measured(widthMm);
  }
  const m = exponentOf(kind);
  const spot = () => spotSource(frame, m);
  const line = () => (m === 1 ? lambertianStrip(frame, lengthMm) : beamStrip(frame, lengthMm, m));
  const face = (width: number) =>
    m === 1 ? lambertianPanel(frame, lengthMm, width) : beamPanel(frame, lengthMm, width, m);
  const strip = () => (across > 0 ? stripOfWidth(frame, across, line(), face(across)) : line());
  const { shape } = kind;
  // A plate without a width is a strip; one without any size a point.
  switch (shape) {
    case 'spot':
      return spot();
    case 'strip':
      return lengthMm > 0 ? strip() : spot();
    case 'panel':
      if (lengthMm > 0 && widthMm > 0) {
        return face(widthMm);
      }
      return lengthMm > 0 ? line() : spot();
    default:
      return shape satisfies never;
  }
}

/** Exponent of the cosᵐ law that a lamp without a photometric file follows; 1 is Lambertian. */
function exponentOf({ emission }: LampKind): number {
  switch (emission.kind) {
    case 'beam':
      return beamExponent(emission.fullAngleDeg);
    case 'lambertian':
      return 1;
    case 'file':
      throw new Refusal(
        'a lamp with a photometric file follows no cosine law; its file is expected',
      );
    default:
      return emission satisfies never;
  }
}

/** The quicker way for many level receivers, where the shape has one. */
function levelSourceOf(lamp: Lamp, kind: LampKind): LevelSource | null {
  const { shape, emission } = kind;
  switch (shape) {
    case 'strip': {
      const { lengthMm } = litSize(kind);
      return lengthMm > 0 ? levelStrip(lamp, lengthMm, faceWidthMm(kind), emission) : null;
    }
    case 'panel':
    case 'spot':
      return null;
    default:
      return shape satisfies never;
  }
}

function levelStrip(
  lamp: Lamp,
  lengthMm: number,
  widthMm: number,
  { kind }: Emission,
): LevelSource | null {
  switch (kind) {
    case 'lambertian':
      return lambertianStripLevel(lampFrameOf(lamp), lengthMm, widthMm);
    case 'beam':
    case 'file':
      return null;
    default:
      return kind satisfies never;
  }
}

/** The shelf's lamps made ready for the direct sum. Throws where a lamp makes no sense. */
export function readyLamps(shelf: Shelf, lampKinds: readonly LampKind[]): ReadyLamp[] {
  return shelf.lamps.map((lamp) => readyLamp(lamp, kindOfLamp({ lampKinds }, lamp)));
}

/** The same of pieces of a lamp's length, where there is a quick way; null: there is none. */
export function lampSourceWithin(lamp: Lamp, kind: LampKind): SourceWithin | null {
  const { lengthMm, widthMm } = litSize(kind);
  const line = lengthMm > 0 && widthMm === 0 && faceWidthMm(kind) === 0;
  return line && !photometryOf(kind) && exponentOf(kind) === 1
    ? lambertianStripWithin(lampFrameOf(lamp), lengthMm)
    : null;
}

/** What one µmol s⁻¹ of a lamp sends where. */
export const lampSource = (lamp: Lamp, kind: LampKind): Source =>
  sourceOf(lamp, kind, photometryOf(kind));

/** One lamp made ready. Throws where it makes no sense. */
export function readyLamp(lamp: Lamp, kind: LampKind): ReadyLamp {
  const frame = lampFrameOf(lamp);
  return {
    lampId: lamp.id,
    group: lamp.group,
    fluxUmolS: lampFlux(kind, lamp).umolS,
    perFlux: lampSource(lamp, kind),
    level: levelSourceOf(lamp, kind),
    awayMm: distanceTo(frame, litSize(kind).lengthMm, faceWidthMm(kind)),
    frontMm: (x, y, z) =>
      (x - frame.cx) * frame.nx + (y - frame.cy) * frame.ny + (z - frame.cz) * frame.nz,
  };
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
      add(sum, i, fluxUmolS * perFlux(xMm, yMm, zMm, 0, 0, 1));
      i++;
    }
  }
  return sum;
}

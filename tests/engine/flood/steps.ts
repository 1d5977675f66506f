import type { FloodZone, Slope } from '../../../shared-types/flood';
import type { Tray } from '../../../shared-types/rack';

/**
 * A tray's water by small steps, written without the engine: the floor as columns, the volume
 * changing by inflow less outflow, the depth looked up from the volume. Torricelli's law, the weir
 * at a lip and a tube running full are those of trade-facts.md 4.2 to 4.4, g = 9.80665 m s⁻².
 */
const G = 9.80665;
const areaM2 = (boreMm: number) => (Math.PI / 4) * (boreMm / 1000) ** 2;
/** L/min through a round hole under a depth in mm, and over the lip of an upright pipe. */
export const holeLMin = (boreMm: number, cd: number, mm: number) =>
  60_000 * cd * areaM2(boreMm) * Math.sqrt((2 * G * Math.max(0, mm)) / 1000);
const lipLMin = (boreMm: number, cd: number, mm: number) => {
  const m = Math.max(0, mm) / 1000;
  const weir = (2 / 3) * cd * Math.sqrt(2 * G) * Math.PI * (boreMm / 1000) * m ** 1.5;
  return Math.min(60_000 * weir, holeLMin(boreMm, cd, mm));
};

export interface Pots {
  /** Centres in the tray, mm. */
  at: readonly (readonly [number, number])[];
  diameterMm: number;
  heightMm: number;
  /** Share of the pots' room that takes up water. */
  pores: number;
}

/** Litres at every tenth of a millimetre over the drain's foot, from the lowest corner to the rim. */
export interface Table {
  fromMm: number;
  litres: Float64Array;
}

const COLUMNS = 120;
const STEP_MM = 0.1;

export function tableOf(tray: Tray, slope: Slope | undefined, pots: Pots): Table {
  const right = (slope?.rightMmPerM ?? 0) / 1000;
  const back = (slope?.backMmPerM ?? 0) / 1000;
  const corner = (x: number, y: number) => right * x + back * y;
  const corners = [
    corner(0, 0),
    corner(tray.widthMm, 0),
    corner(0, tray.depthMm),
    corner(tray.widthMm, tray.depthMm),
  ];
  const [lowest, highest] = [Math.min(...corners), Math.max(...corners)];
  const share = { lowest: 0, middle: 0.5, highest: 1 }[slope?.drainAt ?? 'lowest'];
  const drain = lowest + share * (highest - lowest);
  const cellMm2 = (tray.widthMm * tray.depthMm) / COLUMNS ** 2;
  const floors: number[] = [];
  for (let i = 0; i < COLUMNS; i++) {
    for (let j = 0; j < COLUMNS; j++) {
      const x = ((i + 0.5) * tray.widthMm) / COLUMNS;
      const y = ((j + 0.5) * tray.depthMm) / COLUMNS;
      floors.push(corner(x, y) - drain);
    }
  }
  const potFloors = pots.at.map(([x, y]) => corner(x, y) - drain);
  const potMm2 = (Math.PI / 4) * pots.diameterMm ** 2;
  const fromMm = lowest - drain;
  const toMm = fromMm + tray.rimHeightMm;
  const litres = new Float64Array(Math.floor((toMm - fromMm) / STEP_MM) + 2);
  floors.sort((a, b) => a - b);
  let [under, sum] = [0, 0];
  for (let k = 0; k < litres.length; k++) {
    const depth = fromMm + k * STEP_MM;
    // Columns whose floor lies under the water so far, and the sum of their floors.
    for (let floor = floors[under]; floor !== undefined && floor < depth; floor = floors[under]) {
      sum += floor;
      under += 1;
    }
    let mm3 = cellMm2 * (under * depth - sum);
    for (const floor of potFloors) {
      mm3 -= potMm2 * (1 - pots.pores) * Math.min(pots.heightMm, Math.max(0, depth - floor));
    }
    litres[k] = mm3 / 1e6;
  }
  return { fromMm, litres };
}

export function litresAt({ fromMm, litres }: Table, depthMm: number): number {
  const at = Math.max(0, (depthMm - fromMm) / STEP_MM);
  const k = Math.min(litres.length - 2, Math.floor(at));
  const [a, b] = [litres[k] ?? 0, litres[k + 1] ?? 0];
  return a + (b - a) * (at - k);
}

function depthAt({ fromMm, litres }: Table, volume: number): number {
  let low = 0;
  let high = litres.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((litres[middle] ?? 0) <= volume) low = middle;
    else high = middle;
  }
  const [a, b] = [litres[low] ?? 0, litres[high] ?? 0];
  const part = b > a ? Math.min(1, Math.max(0, (volume - a) / (b - a))) : 0;
  return fromMm + (low + part) * STEP_MM;
}

/** What leaves by the drain, L/min: with the pump on or off, and a siphon that pulls or not. */
export function drainLMin(
  { drain, dischargeCoefficient: cd, floodDepthMm }: FloodZone,
  mm: number,
  on: boolean,
  pulling: boolean,
): number {
  if (mm <= 0 && !(drain.kind === 'siphon' && pulling)) return 0;
  if (drain.kind === 'valve') return on ? 0 : holeLMin(drain.boreMm, cd, mm);
  if (drain.kind === 'siphon') {
    const head = Math.max(0, mm + drain.dropMm) / 1000;
    if (pulling) {
      return 60_000 * areaM2(drain.boreMm) * Math.sqrt((2 * G * head) / (1 + drain.lossFactor));
    }
    return lipLMin(drain.boreMm, cd, mm - floodDepthMm);
  }
  const back = holeLMin(drain.returnBoreMm, cd, mm);
  const open = drain.returnThrough === 'hole' ? back : on ? 0 : back;
  // Pump off, the engine leaves the overflow out of its draining time: so does this.
  return open + (on ? lipLMin(drain.overflowBoreMm, cd, mm - floodDepthMm) : 0);
}

export interface Walk {
  /** Seconds until the goal, null where it was not reached. */
  seconds: number | null;
  depthMm: number;
  highestMm: number;
  /** Litres that came in, went out by drain and ran over the rim. */
  inL: number;
  outL: number;
  overL: number;
  changeL: number;
  /** Whether a siphon ever pulled, and ever let go again. */
  tripped: boolean;
  broke: boolean;
  tankL: number;
  /** Seconds after which the pump first found less than it moves; null: never. */
  dryS: number | null;
}

/** Lets a tray run for so long, or until `until` says so. */
export function walk(run: {
  table: Table;
  zone: FloodZone;
  inflowLMin: number;
  fromMm: number;
  seconds: number;
  stepS?: number;
  until?: (depthMm: number) => boolean;
  /** A siphon that pulls from the beginning. */
  pulling?: boolean;
  /** Water in the reservoir in reach of the pump, L; what drains back goes there. */
  tankL?: number;
}): Walk {
  const { table, zone, inflowLMin, fromMm, seconds, stepS = 0.1, until } = run;
  const { drain, floodDepthMm, residualMm } = zone;
  const on = inflowLMin > 0;
  const full = table.litres.at(-1) ?? 0;
  let pulling = run.pulling ?? false;
  let litres = litresAt(table, fromMm);
  const startL = litres;
  let depth = fromMm;
  const walked: Walk = {
    seconds: null,
    depthMm: depth,
    highestMm: depth,
    inL: 0,
    outL: 0,
    overL: 0,
    changeL: 0,
    tripped: pulling,
    broke: false,
    tankL: run.tankL ?? Infinity,
    dryS: null,
  };
  const out = (mm: number) => drainLMin(zone, mm, on, pulling);
  for (let t = 0; t < seconds; t += stepS) {
    if (until?.(depth)) {
      walked.seconds = t;
      break;
    }
    if (drain.kind === 'siphon') {
      const trips = drain.tripFlowLMin === null || inflowLMin >= drain.tripFlowLMin;
      if (!pulling && on && trips && depth >= floodDepthMm - 1e-9) {
        pulling = true;
        walked.tripped = true;
      }
      if (pulling && depth <= residualMm) {
        pulling = false;
        walked.broke = true;
      }
    }
    // Heun's step, so that its own error stays far under the tolerance.
    const came = Math.min(inflowLMin * (stepS / 60), walked.tankL);
    if (came < inflowLMin * (stepS / 60)) walked.dryS ??= t;
    const first = out(depth);
    const ahead = depthAt(table, Math.max(0, litres + came - (first * stepS) / 60));
    const gone = ((first + out(ahead)) / 2) * (stepS / 60);
    const taken = Math.min(gone, litres + came);
    litres += came - taken;
    const over = Math.max(0, litres - full);
    litres -= over;
    walked.inL += came;
    walked.outL += taken;
    walked.tankL += taken - came;
    walked.overL += over;
    depth = depthAt(table, litres);
    walked.highestMm = Math.max(walked.highestMm, depth);
  }
  walked.depthMm = depth;
  walked.changeL = litres - startL;
  return walked;
}

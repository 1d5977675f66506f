import type { Basin } from './tray/basin';
import type { Work } from './tray/lip';
import { emptiedAfterS, litresIn, spiltAlong, upTo, type WaterTaken } from './reservoir';
import { outAtLMin, pumpOn, type Part, type State } from './working';
import { num } from '../entry';

/** One tray of a zone: at work with moist media, and as a vessel with dry ones. */
export interface Filling {
  work: Work;
  first: Basin;
}

/** While an empty reservoir lives on what siphons give back, flows are taken anew so many times. */
const SLICES = 24;
const MOST_SLICES = 200;
/** Siphons give a little less as the water falls: so much of their flow is counted on. */
const LEVEL_SHARE = 0.97;
/** Less than this in the reservoir, L, is none. */
const NOTHING_L = 1e-6;

/**
 * The water that a zone's reservoir can bring (`waterL`, L), and what its trays have of it: the
 * depths they stand at, what their media took up at the highest water so far, and what has run over
 * their rims since the last `topUp`. Whatever leaves the reservoir is in one of these.
 */
export class Pool {
  states: State[];
  spilledL: number[];
  private readonly moist: ((mm: number) => number)[];
  private readonly soaked: ((mm: number) => number)[];
  private readonly peaksMm: number[];

  constructor(
    readonly fillings: readonly Filling[],
    private readonly waterL: number,
  ) {
    this.moist = fillings.map(({ work }) => litresIn(work.basin));
    const dry = fillings.map(({ first }) => litresIn(first));
    this.soaked = dry.map((of, i) => (mm) => Math.max(0, of(mm) - (this.moist[i]?.(mm) ?? 0)));
    const residual = (i: number) => fillings[i]?.work.zone.residualMm ?? 0;
    this.peaksMm = fillings.map((_, i) => residual(i));
    this.spilledL = fillings.map(() => 0);
    this.states = fillings.map((_, i) => ({ depthMm: residual(i), siphoning: false }));
    if (this.owedL() > waterL) {
      // The reservoir does not even bring what never drains: the trays begin dry.
      this.peaksMm = fillings.map(({ first }) => first.emptyMm);
      this.states = this.peaksMm.map((depthMm) => ({ depthMm, siphoning: false }));
    }
  }

  /** What ran over the rims and was used is filled up again. */
  topUp(): void {
    this.spilledL = this.fillings.map(() => 0);
  }

  /** In the reservoir, in reach of the pump. */
  leftL(): number {
    return Math.max(0, this.waterL - this.owedL());
  }

  private owedL(): number {
    return this.states.reduce(
      (sum, state, i) => sum + this.heldL(i, state.depthMm) + num(this.spilledL, i),
      0,
    );
  }

  /** In a tray with its media. Water that no pump brought is none of the reservoir's. */
  private heldL(i: number, depthMm: number): number {
    if ((this.fillings[i]?.work.inflowLMin ?? 0) <= 0) return 0;
    const highest = Math.max(depthMm, this.peaksMm[i] ?? depthMm);
    return (this.moist[i]?.(depthMm) ?? 0) + (this.soaked[i]?.(highest) ?? 0);
  }

  /**
   * Lets the pump run for a time; gives the course of each tray and from when on it ran dry, in
   * seconds from its start (`seconds` where it never does). An empty reservoir brings no more than
   * drains back meanwhile: trays without a siphon then keep their level, those with one share what
   * the siphons give back.
   */
  run(seconds: number): { courses: Part['points'][]; dryFromS: number } {
    const courses: Part['points'][] = this.states.map(() => []);
    const works = this.fillings.map(({ work }) => work);
    const flowLMin = works.reduce((sum, work) => sum + work.inflowLMin, 0);
    let done = 0;
    const add = (parts: readonly Part[], tookS: number) => {
      parts.forEach((part, i) => {
        const at = done;
        courses[i]?.push(...part.points.map((p) => ({ ...p, seconds: p.seconds + at })));
      });
      this.states = parts.map((part) => part.to);
      done += tookS;
    };
    const go = (flows: readonly Work[], mostS: number): void => {
      const { parts, tookS } = this.step(flows, mostS);
      add(parts, tookS);
    };
    go(works, seconds);
    const dryFromS = done;
    const slice = (seconds - done) / SLICES;
    for (let i = 0; i < MOST_SLICES && seconds - done > 1e-6; i++) {
      const back = works.reduce((sum, work, k) => sum + this.backLMin(work, k), 0);
      const left = this.leftL() > NOTHING_L ? this.leftL() : 0;
      const share = Math.min(1, (LEVEL_SHARE * back + (60 * left) / slice) / flowLMin);
      if (works[0]?.zone.drain.kind !== 'siphon' || share === 0) break;
      const flows = works.map((work) => ({ ...work, inflowLMin: work.inflowLMin * share }));
      const before = done;
      go(flows, Math.min(slice, seconds - done));
      // The last of it is gone at once.
      if (done === before) break;
    }
    const rest = seconds - done;
    if (rest > 0) {
      add(
        this.states.map((state) => still(state, rest)),
        rest,
      );
    }
    return { courses, dryFromS };
  }

  /** What a siphon that pulls gives back, L/min. */
  private backLMin(work: Work, i: number): number {
    const state = this.states[i];
    return state?.siphoning ? outAtLMin(work, state.depthMm, true) : 0;
  }

  /** Runs until the time is over or the reservoir is empty. */
  private step(works: readonly Work[], mostS: number): { parts: Part[]; tookS: number } {
    const parts = works.map((work, i) =>
      work.inflowLMin > 0 ? pumpOn(work, this.state(i), mostS) : still(this.state(i), mostS),
    );
    const emptiedS = this.lasts(works, mostS) ? null : this.emptiedS(works, parts);
    const tookS = Math.min(mostS, emptiedS ?? mostS);
    const cut = parts.map((part, i): Part => {
      const work = works[i];
      if (emptiedS === null || !work) return part;
      const points = upTo(part.points, tookS);
      return { points, to: stateAfter(work, this.state(i), part, points) };
    });
    cut.forEach(({ points }, i) => {
      const work = works[i];
      if (!work) return;
      this.spilledL[i] = num(this.spilledL, i) + (spiltAlong(work, points).at(-1) ?? 0);
      const high = points.reduce((most, p) => Math.max(most, p.depthMm), -Infinity);
      this.peaksMm[i] = Math.max(this.peaksMm[i] ?? high, high);
    });
    return { parts: cut, tookS };
  }

  private state(i: number): State {
    return this.states[i] ?? { depthMm: 0, siphoning: false };
  }

  /** Whether even with nothing coming back the reservoir lasts so long: the usual case. */
  private lasts(works: readonly Work[], seconds: number): boolean {
    const flowLMin = works.reduce((sum, work) => sum + work.inflowLMin, 0);
    const soaksL = works.reduce((sum, { basin, inflowLMin }, i) => {
      const soaked = this.soaked[i];
      if (!soaked || inflowLMin <= 0) return sum;
      return sum + Math.max(0, soaked(basin.rimMm) - soaked(num(this.peaksMm, i)));
    }, 0);
    return (flowLMin * seconds) / 60 + soaksL <= this.leftL();
  }

  private emptiedS(works: readonly Work[], parts: readonly Part[]): number | null {
    const taken = parts.map(({ points }, i): WaterTaken => {
      const work = works[i];
      if (!work || work.inflowLMin <= 0) return [];
      const spilt = spiltAlong(work, points);
      const from = this.heldL(i, this.state(i).depthMm);
      let highest = num(this.peaksMm, i);
      return points.map(({ seconds, depthMm }, k) => {
        highest = Math.max(highest, depthMm);
        const held = (this.moist[i]?.(depthMm) ?? 0) + (this.soaked[i]?.(highest) ?? 0);
        return { seconds, litres: held - from + num(spilt, k) };
      });
    });
    return emptiedAfterS(taken, this.leftL());
  }
}

/** How a tray stands where its run is cut off: a siphon pulls while the water falls or goes over. */
function stateAfter(work: Work, before: State, whole: Part, points: Part['points']): State {
  const last = points.at(-1);
  const depthMm = last?.depthMm ?? before.depthMm;
  const next = whole.points.find((p) => p.seconds > (last?.seconds ?? 0));
  const hangs = whole.to.siphoning && depthMm >= Math.min(work.zone.floodDepthMm, work.basin.rimMm);
  const falls = next !== undefined && next.depthMm < depthMm;
  return { depthMm, siphoning: work.zone.drain.kind === 'siphon' && (falls || hangs) };
}

/** A tray that keeps its level. */
export const still = (state: State, seconds: number): Part => ({
  points: [0, seconds].map((s) => ({ seconds: s, depthMm: state.depthMm })),
  to: state,
});

import type { FloodZone } from '../../../../shared-types/flood';
import type { NoticeKind } from '../../../../shared-types/notice';
import type { PottedFlood } from '../tray/potted';
import { CLOSE_SHARE } from '../verdicts/verdict';
import { isBetter, tried, type ZoneAsTried, type Tried } from './flaws';

/** What one can set at a zone without buying another pump or tray. */
export type MendStep =
  | { of: 'on'; minutes: number }
  | { of: 'every'; minutes: number }
  | { of: 'reservoir'; litres: number }
  | { of: 'depth'; mm: number }
  | { of: 'overflow'; mm: number };

/** Steps that together make zones better; `whole`: nothing is wrong with them after that. */
export interface FloodMend {
  steps: readonly MendStep[];
  whole: boolean;
}

/** Intervals that a timer is set to, min. */
const INTERVALS = [15, 30, 45, 60, 90, 120, 180, 240, 360, 480, 720, 1440];
/** What a timer counts in, min, and how much longer than reckoned is tried. */
const MORE_MINUTES = 3;
/** Bores of overflow pipes that are sold, mm. */
const BORES = [25, 32, 40, 50, 63, 75, 90];
const MOST_STEPS = 4;
/** Trays that are reckoned in all while mends are looked for: about a second. */
const MOST_TRIED = 400;
const LEAST_DEPTH_MM = 5;

/** Flaws that each kind of step may take away. */
const causes: Record<MendStep['of'], readonly NoticeKind[]> = {
  on: ['never-fills', 'too-shallow', 'overtops', 'never-drains', 'roots-too-wet'],
  reservoir: ['reservoir-too-small', 'never-fills', 'too-shallow'],
  depth: ['overtops', 'pot-rim-wet', 'leaf-line-wet', 'too-shallow'],
  overflow: ['overtops', 'pot-rim-wet', 'leaf-line-wet'],
  every: ['never-drains', 'roots-too-wet', 'reservoir-too-small'],
};
const kindsOfStep: readonly MendStep['of'][] = ['on', 'reservoir', 'depth', 'overflow', 'every'];

/**
 * What would mend zones that are set alike, the best first: one step that leaves nothing wrong, else several that do,
 * else single steps that leave less. Each is tried on the figures of all of them, so that none
 * brings a flaw with it. Empty where nothing is wrong, or only another pump, drain or tray helps.
 */
export function floodMends(
  flood: PottedFlood,
  sites: readonly [ZoneAsTried, ...ZoneAsTried[]],
): FloodMend[] {
  const now = tried(flood, sites);
  if (now.flaws.size === 0) return [];
  const trays = sites.reduce((sum, { vessels }) => sum + vessels.length, 0);
  let left = MOST_TRIED;
  const attempt: Attempt = (step, from) => {
    left -= trays;
    if (left < 0) return null;
    return tried(
      flood,
      from.sites.map((site) => ({ ...site, zone: withStep(site.zone, step) })),
    );
  };
  const single = kindsOfStep.flatMap((of) => {
    const found = stepOf(of, now, attempt);
    return found && isBetter(found.after.flaws, now.flaws) ? [found] : [];
  });
  const mends = single.map(({ step, after }) => mendOf([step], after));
  const whole = mends.filter((mend) => mend.whole);
  if (whole.length > 0) return whole;
  const together = severalSteps(now, attempt);
  return together ? [mendOf(together.steps, together.after), ...mends] : mends;
}

/** null: enough has been tried. */
type Attempt = (step: MendStep, from: Tried) => Tried | null;

/** One flaw after the other; null where some flaw stays. */
function severalSteps(now: Tried, attempt: Attempt): { steps: MendStep[]; after: Tried } | null {
  const steps: MendStep[] = [];
  let after = now;
  while (after.flaws.size > 0 && steps.length < MOST_STEPS) {
    const next = nextStep(after, steps, attempt);
    if (!next) return null;
    steps.push(next.step);
    after = next.after;
  }
  return after.flaws.size === 0 ? { steps, after } : null;
}

/** A step that takes away a flaw for good; what it brings instead is the next one's matter. */
function nextStep(from: Tried, done: readonly MendStep[], attempt: Attempt) {
  for (const of of kindsOfStep) {
    if (done.some((step) => step.of === of)) continue;
    const found = stepOf(of, from, attempt);
    if (!found) continue;
    const gone = [...from.flaws.keys()].some((kind) => !found.after.flaws.has(kind));
    if (gone) return found;
  }
  return null;
}

/** The least step of a kind that helps; null where none does. */
function stepOf(
  of: MendStep['of'],
  from: Tried,
  attempt: Attempt,
): { step: MendStep; after: Tried } | null {
  const wrong = causes[of].filter((kind) => from.flaws.has(kind));
  if (wrong.length === 0) return null;
  for (const step of candidates(of, from, attempt)) {
    const after = attempt(step, from);
    if (!after) return null;
    if (wrong.some((kind) => !after.flaws.has(kind))) return { step, after };
  }
  return null;
}

function candidates(of: MendStep['of'], from: Tried, attempt: Attempt): MendStep[] {
  const [zone] = from.found.map((found) => found.zone);
  if (!zone) return [];
  switch (of) {
    case 'on':
      return minutesOn(zone, from).map((minutes) => ({ of, minutes }));
    case 'every':
      return INTERVALS.filter((minutes) =>
        zone.schedule.every((w) => w.everyMinutes < minutes),
      ).map((minutes) => ({ of, minutes }));
    case 'reservoir': {
      // No reservoir makes up for what runs over.
      if (from.found.some(({ spilledL }) => spilledL > 0)) return [];
      const least = Math.max(...from.found.map(({ leastReservoirL }) => leastReservoirL));
      const litres = Math.ceil(least - 1e-9);
      return litres > zone.reservoirL && litres <= 100_000 ? [{ of, litres }] : [];
    }
    case 'depth':
      return depths(zone, from, attempt).map((mm) => ({ of, mm }));
    case 'overflow': {
      const { drain } = zone;
      if (drain.kind !== 'standpipe') return [];
      return BORES.filter((mm) => mm > drain.overflowBoreMm).map((mm) => ({ of, mm }));
    }
  }
}

/** Whole minutes in which all trays fill with the usual time to spare, and a few more. */
function minutesOn(zone: FloodZone, { found }: Tried): number[] {
  const needs = found.flatMap(({ trays }) => trays.map(({ fillFirstS }) => fillFirstS));
  const longest = needs.reduce<number>((most, s) => Math.max(most, s ?? 0), 0);
  if (longest <= 0 || zone.schedule.length === 0) return [];
  const least = Math.max(1, Math.ceil(longest / (1 - CLOSE_SHARE) / 60 - 1e-9));
  return Array.from({ length: MORE_MINUTES + 1 }, (_, i) => least + i).filter(
    (minutes) => minutes <= 1440 && zone.schedule.some((w) => w.onMinutes !== minutes),
  );
}

/** Lower where water comes too high, higher where it comes too low: the nearest that does. */
function depths(zone: FloodZone, from: Tried, attempt: Attempt): number[] {
  const { flaws, found } = from;
  const has = (...kinds: NoticeKind[]) => kinds.filter((kind) => flaws.has(kind));
  const tooHigh = has('overtops', 'pot-rim-wet', 'leaf-line-wet');
  const now = Math.round(zone.floodDepthMm);
  const helps = (mm: number, wrong: readonly NoticeKind[]) => {
    const after = attempt({ of: 'depth', mm }, from);
    return after !== null && wrong.every((kind) => !after.flaws.has(kind));
  };
  if (tooHigh.length > 0) {
    const lowest = Math.max(LEAST_DEPTH_MM, Math.ceil(zone.residualMm) + 1);
    const mm = nearest(now - 1, lowest, (depth) => helps(depth, tooHigh));
    return mm === null ? [] : [mm];
  }
  const highest =
    Math.floor(Math.min(...found.flatMap(({ trays }) => trays.map(({ rimMm }) => rimMm)))) - 1;
  const mm = nearest(now + 1, highest, (depth) => helps(depth, has('too-shallow')));
  return mm === null ? [] : [mm];
}

/** Of whole figures from the nearest to the farthest, the first that will do, where all beyond it do. */
function nearest(near: number, far: number, will: (n: number) => boolean): number | null {
  if (Math.sign(far - near) !== 0 && near < 1) return null;
  if (!Number.isFinite(far) || !will(far)) return null;
  let [no, yes] = [near - Math.sign(far - near), far];
  while (Math.abs(yes - no) > 1) {
    const middle = Math.round((yes + no) / 2);
    if (will(middle)) yes = middle;
    else no = middle;
  }
  return yes;
}

/** A zone with one thing set; its hours stay its own. */
function withStep(zone: FloodZone, step: MendStep): FloodZone {
  switch (step.of) {
    case 'on':
      return { ...zone, schedule: zone.schedule.map((w) => ({ ...w, onMinutes: step.minutes })) };
    case 'every':
      return {
        ...zone,
        schedule: zone.schedule.map((w) => ({ ...w, everyMinutes: step.minutes })),
      };
    case 'reservoir':
      return { ...zone, reservoirL: step.litres };
    case 'depth':
      return { ...zone, floodDepthMm: step.mm };
    case 'overflow':
      return zone.drain.kind === 'standpipe'
        ? { ...zone, drain: { ...zone.drain, overflowBoreMm: step.mm } }
        : zone;
  }
}

const mendOf = (steps: readonly MendStep[], after: Tried): FloodMend => ({
  steps,
  whole: after.flaws.size === 0,
});

/** What some steps set at a zone. */
export function zonePatchOf(
  zone: FloodZone,
  steps: readonly MendStep[],
): Partial<Omit<FloodZone, 'id'>> {
  const { schedule, reservoirL, floodDepthMm, drain } = steps.reduce(withStep, zone);
  return {
    ...(schedule === zone.schedule ? {} : { schedule }),
    ...(reservoirL === zone.reservoirL ? {} : { reservoirL }),
    ...(floodDepthMm === zone.floodDepthMm ? {} : { floodDepthMm }),
    ...(drain === zone.drain ? {} : { drain }),
  };
}

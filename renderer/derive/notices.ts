import type { Layout } from '../../shared-types/layout';
import type { Notice, Severity, Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import type { Trial } from '../../shared-types/trial/trial';
import { acceptedIn } from '../document/queries/acceptedIn';
import { noticeKey } from '../document/queries/noticeKey';
import {
  deathNotices,
  findingsNotices,
  questionNotices,
  type Findings,
  type FindingsOutcome,
} from '../engine/findings';
import { standingRecords } from '../document/queries/standing';
import { floodNotices } from '../engine/flood';
import { rackNotices } from '../engine/geometry';
import { hangingNotices } from '../engine/lamps';
import { leakNotices, lightNotices, type PotLight } from '../engine/light';
import {
  drawnSite,
  layoutNotices,
  startNotices,
  trialNotices,
  type TrialInput,
} from '../engine/trial';
import { carriedLevels, treatedNotices } from '../engine/treated';
import { powerNotices } from '../engine/trial/power';
import { floodOf, type FloodFigures } from './flood/flood';
import { correctionNotices } from './light/corrections';
import { shadeNotices } from './light/ownHeight';
import { potLightOf } from './light/potLight';
import { memo } from './memo';
import { orderNotices } from './records/orderNotices';
import { runOrderNotices } from './records/runOrderNotices';
import { standingAssignments, planAsTreated } from './treated';
import { powersOf } from './trial/power';
import { recordNotices } from './records/recordNotices';
import { designInputOf, startByPotOf } from './trial/trial';

const rank: Record<Severity, number> = { stop: 0, warn: 1, note: 2 };

// Each stage is judged anew only when what it rests on changes: a value typed in the records must
// not cost another look at lamps and layout.
const rackStage = memo((treated: Plan['rack'], lengths: Plan['display']['lengths']) => [
  ...rackNotices(treated, lengths),
  ...hangingNotices(treated, lengths).map(aboutBays),
]);

/** Lamps that a level hangs are not on the rack as drawn: what is wrong with them is of their bay. */
function aboutBays(notice: Notice): Notice {
  const about = notice.about.map((ref) => ref.replace(/^lamp:(b\d+)-\d+$/, 'bay:$1'));
  return { ...notice, about: [...new Set(about)] };
}

const lightStage = memo(
  (
    rack: Plan['rack'],
    light: Plan['light'],
    layout: Plan['layout'],
    display: Plan['display'],
    potLight: PotLight,
  ) => lightNotices({ rack, light, layout, display }, potLight),
);
const leakStage = memo(
  (
    treated: Plan['rack'],
    bare: Plan['rack'],
    light: Plan['light'],
    factors: Trial['factors'],
    assignments: Layout['assignments'],
    lengths: Plan['display']['lengths'],
  ) => {
    const placed = { rack: bare, flood: null, factors, assignments };
    const levels = new Map<string, string>();
    for (const { carrier, levelIds } of carriedLevels(placed, { as: 'treated' })) {
      if (carrier !== 'bay') continue;
      for (const [id, level] of levelIds) levels.set(id, `${levels.get(id) ?? ''} ${level}`);
    }
    return leakNotices(treated, light, levels, lengths);
  },
);
const floodStage = memo(
  (
    rack: Plan['rack'],
    flood: Plan['flood'],
    display: Plan['display'],
    figures: FloodFigures | null,
  ) => floodNotices({ rack, flood, display }, figures),
);
type Drawn = ReturnType<typeof drawnSite>;
type Starts = ReturnType<typeof startByPotOf>;
const drawnFromDesign = memo(drawnSite);
const drawnWithStarts = memo((input: TrialInput, layout: Plan['layout'], startByPot: Starts) =>
  drawnSite({ ...input, startByPot }, layout),
);
const trialStage = memo(
  (input: TrialInput, layout: Plan['layout'], rota: Plan['light']['rota'], drawn: Drawn) =>
    trialNotices({ ...input, layout, rota }, drawn),
);
const settingsStage = memo(
  (
    rack: Plan['rack'],
    flood: Plan['flood'],
    factors: Trial['factors'],
    light: Plan['light'],
    display: Plan['display'],
  ) => treatedNotices({ rack, flood, factors, assignments: [], light, display }),
);
const layoutStage = memo(
  (input: TrialInput, layout: Plan['layout'], recorded: boolean, drawn: Drawn) =>
    layoutNotices({ ...input, layout, recorded }, drawn),
);
const startStage = memo((layout: Plan['layout'], startByPot: Starts, drawn: Drawn) =>
  startNotices({ layout, startByPot }, drawn),
);

/**
 * The design, its layout and how the plants started. Starting values are weighed one by one: the
 * layout is looked at with them only where it does not follow from the design alone.
 */
function trialAndLayoutNotices(plan: Plan): Notice[] {
  const { layout } = plan;
  const input = designInputOf(plan);
  if (!input) return [];
  const startByPot = startByPotOf(plan);
  const drawn =
    drawnFromDesign(input, layout) ??
    (startByPot.size > 0 ? drawnWithStarts(input, layout, startByPot) : null);
  const recorded = standingRecords(plan) !== null;
  return [
    ...trialStage(input, layout, plan.light.rota, drawn),
    ...layoutStage(input, layout, recorded, drawn),
    ...startStage(layout, startByPot, drawn),
  ];
}
const powerStage = memo(powerNotices);

const planNotices = memo((plan: Plan): Notice[] => {
  const { light, layout, trial, display } = plan;
  const treated = planAsTreated(plan);
  const powers = powersOf(plan);
  return [
    ...rackStage(treated.rack, display.lengths),
    ...lightStage(treated.rack, light, layout, display, potLightOf(treated)),
    ...(trial
      ? leakStage(
          treated.rack,
          plan.rack,
          light,
          trial.factors,
          standingAssignments(plan),
          display.lengths,
        )
      : []),
    ...floodStage(treated.rack, treated.flood, display, floodOf(treated)),
    ...trialAndLayoutNotices(plan),
    ...(trial ? settingsStage(plan.rack, plan.flood, trial.factors, light, display) : []),
    ...correctionNotices(plan),
    ...shadeNotices(treated, plan),
    ...orderNotices(plan),
    ...runOrderNotices(plan),
    ...(trial && powers.ok ? powerStage(trial, powers.value) : []),
    ...recordNotices(plan),
    ...(trial ? questionNotices(trial, layout, plan.records) : []),
  ];
});

const allNotices = memo((plan: Plan, outcome: FindingsOutcome | null): Notice[] => {
  const found = [...planNotices(plan)];
  if (outcome?.ok) {
    found.push(...deathNotices(outcome.findings), ...findingsNotices(outcome.findings));
  }
  const reasons = reasonsOf(acceptedIn(plan));
  return worstFirst(found.map((notice) => withAcceptance(notice, reasons)));
});

/** The worst first, accepted ones last, otherwise as they stand. */
export function worstFirst(notices: readonly Notice[]): Notice[] {
  return [...notices].sort(
    (a, b) =>
      Number(a.accepted !== undefined) - Number(b.accepted !== undefined) ||
      rank[a.severity] - rank[b.severity],
  );
}

/**
 * Every notice of every stage, worst first, accepted ones last. The findings' own notices need the
 * findings, which are long work: they come in once these have been computed.
 */
export function noticesOf(plan: Plan, outcome: FindingsOutcome | null = null): Notice[] {
  return allNotices(plan, outcome);
}

/** Why the layout cannot be drawn as the plan says; [] where it can. */
export function schemeMisfitsOf(plan: Plan): Notice[] {
  return planNotices(plan).filter(
    ({ kind, severity }) => kind === 'scheme-does-not-fit' && severity === 'stop',
  );
}

/** What is doubtful about the findings of a table from elsewhere. */
export function noticesOfTable(findings: Findings): Notice[] {
  return [...deathNotices(findings), ...findingsNotices(findings)];
}

// Of hundreds of notices and as many accepted ones, each is looked up, not searched for.
const reasonsOf = memo(
  (accepted: ReturnType<typeof acceptedIn>) =>
    new Map(accepted.map((a) => [noticeKey(a), a.reason])),
);

function withAcceptance(notice: Notice, reasons: ReadonlyMap<string, string>): Notice {
  const accepted = reasons.get(noticeKey(notice));
  return accepted === undefined ? notice : { ...notice, accepted };
}

const ringedMemo = memo(
  (notices: readonly Notice[], stage: Stage): ReadonlyMap<string, Severity> => {
    const ringed = new Map<string, Severity>();
    for (const notice of notices) {
      if (notice.accepted !== undefined || notice.severity === 'note') continue;
      if (notice.stage !== stage) continue;
      for (const ref of notice.about) {
        const known = ringed.get(ref);
        if (!known || rank[notice.severity] < rank[known]) ringed.set(ref, notice.severity);
      }
    }
    return oneAndTheSame(JSON.stringify([...ringed]));
  },
);
// Other notices about the same things ring the same things: then nothing is drawn anew.
const oneAndTheSame = memo(
  (entries: string): ReadonlyMap<string, Severity> =>
    new Map(JSON.parse(entries) as [string, Severity][]),
);

/** Worst severity of each thing that an open notice of a stage is about, to ring it on the rack there. */
export function ringedThings(
  notices: readonly Notice[],
  stage: Stage,
): ReadonlyMap<string, Severity> {
  return ringedMemo(notices, stage);
}

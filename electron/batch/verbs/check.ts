import {
  findingsOfPlan,
  likeOnce,
  noticesOf,
  noticesOfAllRuns,
  startHere,
} from '../../../renderer/derive';
import { anyBlindedSince } from '../../../renderer/document/queries';
import { runsOf, seenFrom } from '../../../renderer/document/runs';
import type { Notice } from '../../../shared-types/notice';
import { readPlanFile } from '../inputs';
import { lightReady } from '../lightReady';
import type { Verb } from '../verb';

export const checkVerb: Verb = {
  name: 'check',
  gives:
    'All notices of all stages and runs of a plan, and whether a stop stands that nobody accepted; ' +
    'one flaw of many units of one kind is one notice that lists them. ' +
    'While a run is blinded, what would tell its treatments waits and is counted in "withheld".',
  takes: ['PLAN'],
  options: {},
  async run(args, startJob = startHere) {
    const plan = await readPlanFile(args.positional('PLAN'));
    for (const { id } of runsOf(plan)) await lightReady(seenFrom(plan, id), startJob);
    const blinded = anyBlindedSince(plan);
    const found = noticesOfAllRuns(plan, blinded === null ? findingsOfPlan(plan) : null);
    const notices = likeOnce(plan, found);
    if (blinded === null) return { ok: !notices.some(isOpenStop), notices };
    const all = runsOf(plan).flatMap(({ id }) => noticesOf(seenFrom(plan, id)));
    const told = new Set(notices.map(({ kind }) => kind));
    const withheld = new Set(all.flatMap(({ kind }) => (told.has(kind) ? [] : [kind])));
    return { ok: !all.some(isOpenStop), blinded, withheld: withheld.size, notices };
  },
};

const isOpenStop = (notice: Notice): boolean =>
  notice.severity === 'stop' && notice.accepted === undefined;

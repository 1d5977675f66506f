import type { Notice, Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { hasSeveralRuns, runNumber, runsOf, seenFrom } from '../document/runs';
import { anyBlindedSince } from '../document/queries/blinding';
import type { FindingsOutcome } from '../engine/findings';
import { list } from '../words';
import { noticesToTell } from './blinding';
import { noticesOf, worstFirst } from './notices';

/** What each run has of its own, however alike the runs are. */
const ofARun: Record<Stage, boolean> = {
  rack: false,
  light: false,
  flood: false,
  trial: false,
  layout: true,
  chart: true,
  records: true,
  findings: false,
};

/**
 * Every notice of every run, each once: what not all runs have, and what lies in layout or records,
 * names the runs that it is of. The findings' own are of all runs together. Of a blinded run those
 * alone that tell no treatment.
 */
export function noticesOfAllRuns(plan: Plan, outcome: FindingsOutcome | null): Notice[] {
  if (!hasSeveralRuns(plan)) return [...noticesToTell(plan, noticesOf(plan, outcome))];
  const views = runsOf(plan).map(({ id }) => seenFrom(plan, id));
  const found = new Map<string, { notice: Notice; runs: number[] }>();
  for (const view of views) {
    for (const notice of noticesToTell(view, noticesOf(view))) {
      const key = JSON.stringify(notice);
      const known = found.get(key);
      if (known) known.runs.push(runNumber(view));
      else found.set(key, { notice, runs: [runNumber(view)] });
    }
  }
  const own = [...found.values()].map(({ notice, runs }) =>
    runs.length === views.length && !ofARun[notice.stage] ? notice : named(notice, runs),
  );
  if (anyBlindedSince(plan) !== null) return worstFirst(own);
  const standing = new Set(noticesOf(plan).map((notice) => JSON.stringify(notice)));
  const ofFindings = noticesOf(plan, outcome).filter((one) => !standing.has(JSON.stringify(one)));
  return worstFirst([...own, ...ofFindings]);
}

/** `Run 2: …`, `Runs 2 and 3: …`. */
function named(notice: Notice, runs: readonly number[]): Notice {
  const which = `${runs.length === 1 ? 'Run' : 'Runs'} ${list(runs.map(String))}`;
  return { ...notice, text: `${which}: ${notice.text}` };
}

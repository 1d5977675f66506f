import type { Notice, Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { hasSeveralRuns, runName, runNumber, runsOf, seenFrom } from '../document/runs';
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
  findings: true,
};

/**
 * Every notice of every run, each once: what not all runs have, and what lies in layout or records,
 * names the runs that it is of. The findings' own name those that they are of, taken together. Of a blinded run those
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
  const those = runsFound(plan, outcome);
  return worstFirst([...own, ...ofFindings.map((notice) => named(notice, those, TOGETHER))]);
}

/** Numbers of the runs that findings are of. */
function runsFound(plan: Plan, outcome: FindingsOutcome | null): number[] {
  if (!outcome?.ok) return [runNumber(plan)];
  const { runs, question } = outcome.findings;
  const views = runsOf(plan).map(({ id }) => seenFrom(plan, id));
  const having = views.filter((view) =>
    runs
      ? runs.names.includes(runName(view))
      : Object.keys(view.records.values[question.measurement.id] ?? {}).length > 0,
  );
  return (having.length > 0 ? having : [plan]).map(runNumber);
}

const TOGETHER = ' together';

/** `Run 2: …`, `Runs 2 and 3: …`, `Runs 1 and 2 together: …`. */
function named(notice: Notice, runs: readonly number[], several = ''): Notice {
  const one = runs.length === 1;
  const which = `${one ? 'Run' : 'Runs'} ${list(runs.map(String))}${one ? '' : several}`;
  return { ...notice, text: `${which}: ${notice.text}` };
}

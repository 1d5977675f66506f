import type { Command } from '../../command';
import { factorIn } from '../../edit';
import { acceptNotice } from '../notices/acceptNotice';
import type { UnansweredKind } from './reportAsCase';

/**
 * Decides to grow the whole trial several times with the levels of a factor moved on by one unit
 * each time: the schedule goes into the notes, and the notice of the single run is answered by it.
 */
export const repeatTrial: Command<{
  factorId: string;
  kind: UnansweredKind;
  runs: number;
  date: string | null;
}> = {
  name: 'repeatTrial',
  label: ({ runs }) => `Plan ${runs} runs with the levels swapped`,
  run: (plan, { factorId, kind, runs, date }) => {
    const factor = factorIn(plan, factorId);
    const names = factor.levels.map((level) => level.name);
    const units = factor.unit === 'shelf' ? 'shelf' : factor.unit;
    const schedule =
      `${factor.name} is grown in ${runs} runs. Run 1 as laid out here; in each further run every ` +
      `${units} takes the level that comes next: ${[...names, names[0] ?? ''].join(' → ')}. ` +
      'Each run is saved as a plan of its own; the runs are analysed together, run and ' +
      `${units} allowed for.`;
    const noted = { ...plan, notes: [plan.notes, schedule].filter(Boolean).join('\n\n') };
    return acceptNotice.run(noted, {
      kind,
      about: [`factor:${factorId}`],
      reason: `One of ${runs} runs between which the levels change their ${units}; the runs together are the replicates.`,
      date,
    });
  },
};

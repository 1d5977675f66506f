import type { Plan } from '../../../shared-types/plan';
import type { OtherRunLabel } from '../../document/records';
import type { Pot } from '../../engine/geometry';
import type { CellPlace } from './grid/rowView';
import { isOfOtherRun, type useEntry } from './grid/useEntry';
import { useOtherRun } from './useOtherRun';
import type { useSaid } from './useRecording';

/** Ways to a pot: by its place on the rack, by what is typed, and by its label, which may be of another run. */
export function useFinding(
  plan: Plan,
  measured: readonly Pot[],
  grid: {
    entry: Pick<ReturnType<typeof useEntry>, 'find'>;
    say: ReturnType<typeof useSaid>[1];
    want: (cell: CellPlace) => void;
    showTrayOf: (pot: Pot) => void;
    /** The column that the cursor is in. */
    measurementId: string | undefined;
  },
) {
  const { entry, say, want, showTrayOf } = grid;
  const goToPot = (pot: Pot, measurementId = grid.measurementId) => {
    if (!measured.some(({ id }) => id === pot.id)) {
      say(`Pot ${pot.code} is not measured: a guard pot, or not in the layout.`);
      return;
    }
    showTrayOf(pot);
    if (measurementId !== undefined) want({ potId: pot.id, measurementId });
    say(`Pot ${pot.code}.`);
  };
  const toOtherRun = useOtherRun(plan, goToPot);
  const reach = (found: Pot | OtherRunLabel) => {
    if (isOfOtherRun(found)) say(found.said, true, toOtherRun(found));
    else goToPot(found);
  };
  /** Whether what is typed or scanned names a pot. */
  const find = (text: string): boolean => {
    const found = entry.find(text);
    if (typeof found === 'string') say(found);
    else reach(found);
    return typeof found !== 'string';
  };
  return { goToPot, reach, find };
}

import type { Layout } from '../../../shared-types/layout';
import { assignmentsOf, prepareDraw, type StageReport, type TrialInput } from '../../engine/trial';
import { balanceOfSite } from '../../engine/trial/figures/balance';
import { prepareSite } from '../../engine/trial/draw/draw';
import { inputAtDraw } from '../../engine/trial/draw/atDraw';
import { drawnSite } from '../../engine/trial/draw/drawnFrom';
import { gapsOf, medians, unconstrained, type Gaps } from './tryDraw';

export interface DrawBalanceInput {
  data: TrialInput;
  layout: Layout;
}

/** How well a drawn layout is balanced, against what a draw must meet and against any draw. */
export interface DrawBalance {
  /** As drawn: imbalance, what it might be at most, and candidates, for every stage of the draw. */
  stages: StageReport[];
  /** Largest differences between treatment means: in the layout as it stands, and in any draw. */
  here: Gaps;
  free: Gaps;
}

const FREE_DRAWS = 200;

/** Draws the layout again with its report, and free ones beside it; null where it is stale. */
export function drawBalance(
  { data, layout }: DrawBalanceInput,
  tell: (done: number, total: number) => void = () => undefined,
): DrawBalance | null {
  const site = drawnSite(data, layout);
  if (!site) return null;
  const { stages } = prepareSite(site).draw(layout.seed);
  const free = prepareDraw(unconstrained(inputAtDraw(data, layout)));
  const gaps = Array.from({ length: FREE_DRAWS }, (_, i) => {
    if ((i + 1) % 20 === 0) tell(i + 1, FREE_DRAWS);
    const assignments = assignmentsOf(free.site, free.draw(`free draw ${i + 1}`));
    return gapsOf(balanceOfSite(free.site, { assignments }));
  });
  return { stages, here: gapsOf(balanceOfSite(free.site, layout)), free: medians(gaps) };
}

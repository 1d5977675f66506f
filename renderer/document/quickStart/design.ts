import type { QuickAnswers, QuickFactor } from '../../../shared-types/window/quickStart';
import type { Blocks, Scheme } from '../../../shared-types/trial/scheme';
import { spreadIn } from './rack';

/** How the factors are drawn, by what each is given to. */
export function designOf(answers: QuickAnswers): { scheme: Scheme; blocks: Blocks } {
  const { factors, shelves, vessels } = answers;
  const spread = spreadIn(answers);
  const inTray = spread ? spread.rows * spread.columns : 0;
  const of = (units: readonly QuickFactor['unit'][]) =>
    factors.filter(({ unit }) => units.includes(unit));
  const combinations = (own: readonly QuickFactor[]) =>
    own.reduce((n, { levels }) => n * levels.length, 1);
  const onPots = of(['pot']);
  const onTrays = of(['tray']);
  const onShelves = of(['shelf', 'zone']);
  const free = { scheme: 'completely-randomised', blocks: { by: 'none' } } as const;
  if (onPots.length === factors.length) {
    const full = combinations(onPots);
    if (shelves * vessels > 1 && inTray >= full) {
      return { scheme: 'complete-blocks', blocks: { by: 'tray' } };
    }
    return shelves > 1 && inTray * vessels >= full
      ? { scheme: 'complete-blocks', blocks: { by: 'shelf' } }
      : free;
  }
  // Shelves are blocks where each of them holds everything that trays are given.
  const byShelf = onShelves.length === 0 && shelves > 1 && vessels >= combinations(onTrays);
  const blocks: Blocks = byShelf ? { by: 'shelf' } : { by: 'none' };
  const kinds = [onPots, onTrays, onShelves].filter((own) => own.length > 0).length;
  if (kinds > 1) return { scheme: 'split-plot', blocks };
  return byShelf ? { scheme: 'complete-blocks', blocks } : free;
}

import { wayOnStages, type WayOn } from '../../../shared-types/window/wayOn';
import type { Stores } from '../../store/context';

/** What on its stage lets one go on; the first that is there. */
const TARGETS: Record<WayOn, string> = {
  'unlock-layout': '[data-testid="unlock-reason"]',
  'unlock-analysis': '[data-testid="release-rule-reason"]',
  'records-stand': '[data-testid="records-stand"] button',
  'clear-records': '.side input, .side button',
  'level-settings': '.side summary, .side button',
};

/** Goes where an act that was refused can be got done all the same, and lays the focus there. */
export function goOn(wayOn: WayOn, { session }: Stores): void {
  session.getState().goTo(wayOnStages[wayOn]);
  // The stage is drawn first.
  requestAnimationFrame(() => {
    requestAnimationFrame(() => {
      const target = document.querySelector<HTMLElement>(TARGETS[wayOn]);
      for (let fold = target?.closest('details'); fold;) {
        fold.open = true;
        fold = fold.parentElement?.closest('details') ?? null;
      }
      target?.focus();
      target?.scrollIntoView({ block: 'nearest' });
    });
  });
}

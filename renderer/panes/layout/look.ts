import type { Notice, Stage } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PotPaint, RackLook } from '../../canvas/look';
import { placedPotsOf, ringedThings } from '../../derive';
import type { PotInTrial } from '../../derive';
import { blindedSince } from '../../document/queries';
import { treatmentsOnScreen, type ShownTreatment } from '../../print';
import { treatmentLook } from '../../ui';

/** The drawn layout: letter, or code while it is blinded, and pattern say the treatment, colour repeats it. */
export function layoutLook(
  plan: Plan,
  notices: readonly Notice[],
  stage: Stage = 'layout',
): RackLook {
  const potPaint = new Map<string, PotPaint>();
  const { byIndex } = treatmentsOnScreen(plan);
  for (const [id, place] of placedPotsOf(plan)) {
    const shown = byIndex[place.index];
    if (!place.treatment || !shown) continue;
    const look = treatmentLook(shown.look);
    potPaint.set(id, {
      fill: look.colour,
      ink: look.ink,
      pattern: look.pattern,
      letter: shown.mark,
      words: placeInWords(plan, place, shown),
    });
  }
  return { potPaint, ringed: ringedThings(notices, stage), editable: false };
}

/** What the strip says of a drawn pot: its treatment level by level, its block, its plant. */
function placeInWords(
  plan: Plan,
  { treatment, block, plant }: PotInTrial,
  { mark }: ShownTreatment,
): string {
  const levels = (plan.trial?.factors ?? []).map((factor) => {
    const level = factor.levels.find((l) => l.id === treatment?.levels[factor.id]);
    return `${factor.name} ${level?.name ?? '–'}`;
  });
  return [
    blindedSince(plan) === null ? `treatment ${mark}: ${levels.join(', ')}` : `code ${mark}`,
    `block ${block}`,
    ...(plant === null ? [] : [`plant ${plant}`]),
  ].join(' · ');
}

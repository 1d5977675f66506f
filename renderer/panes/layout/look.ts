import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PotPaint, RackLook } from '../../canvas/look';
import { placedPotsOf, ringedThings } from '../../derive';
import type { PotInTrial } from '../../derive';
import { treatmentLook } from '../../ui';

/** The drawn layout: letter and pattern say the treatment, colour repeats it. */
export function layoutLook(plan: Plan, notices: readonly Notice[]): RackLook {
  const potPaint = new Map<string, PotPaint>();
  for (const [id, place] of placedPotsOf(plan)) {
    if (!place.treatment) continue;
    const look = treatmentLook(place.index);
    potPaint.set(id, {
      fill: look.colour,
      ink: look.ink,
      pattern: look.pattern,
      letter: place.treatment.letter,
      words: placeInWords(plan, place),
    });
  }
  return { potPaint, ringed: ringedThings(notices), editable: false };
}

/** What the strip says of a drawn pot: its treatment level by level, its block, its plant. */
function placeInWords(plan: Plan, { treatment, block, plant }: PotInTrial): string {
  const levels = (plan.trial?.factors ?? []).map((factor) => {
    const level = factor.levels.find((l) => l.id === treatment?.levels[factor.id]);
    return `${factor.name} ${level?.name ?? '–'}`;
  });
  return [
    `treatment ${treatment?.letter ?? ''}: ${levels.join(', ')}`,
    `block ${block}`,
    ...(plant === null ? [] : [`plant ${plant}`]),
  ].join(' · ');
}

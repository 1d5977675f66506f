import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PotPaint, RackLook, ShelfField } from '../../canvas/look';
import { fieldOf, lightRangeOf, potLightOf, ringedThings } from '../../derive';
import { fixed, lightColour } from '../../ui';

/** The rack in its light: the field over each shelf with contours, the figure at each pot. */
export function lightLook(plan: Plan, notices: readonly Notice[]): RackLook {
  const range = lightRangeOf(plan);
  const low = range?.low ?? 0;
  const span = range ? range.high - range.low : 1;
  const colour = (ppfd: number) => lightColour((ppfd - low) / span);
  const field = new Map<string, ShelfField>();
  if (range) {
    for (const shelf of plan.rack.shelves) {
      const picture = shelf.lamps.length > 0 ? fieldOf(plan, shelf) : null;
      if (!picture) continue;
      field.set(shelf.id, {
        columns: picture.field.columns,
        rows: picture.field.rows,
        xMm0: picture.stepXMm / 2,
        yMm0: picture.stepYMm / 2,
        stepMm: picture.stepXMm,
        stepYMm: picture.stepYMm,
        values: picture.field.ppfd,
        colour,
        contours: picture.contours,
      });
    }
  }
  const potPaint = new Map<string, PotPaint>();
  if (range) {
    for (const { potId, ppfdUmol, dliMol, source } of potLightOf(plan).pots.values()) {
      const share = (ppfdUmol - low) / span;
      potPaint.set(potId, {
        fill: colour(ppfdUmol),
        ink: share > 0.55 ? '#17211f' : '#ffffff',
        letter: fixed(ppfdUmol, 0),
        words: `PPFD ${fixed(ppfdUmol, 0)} µmol m⁻² s⁻¹, DLI ${fixed(dliMol, 1)} mol m⁻² d⁻¹, ${source}`,
      });
    }
  }
  return { potPaint, field, ringed: ringedThings(notices), editable: 'lamps' };
}

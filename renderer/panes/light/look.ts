import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { PointMark, PotPaint, RackLook, FieldOverlay } from '../../canvas/look';
import {
  fieldOf,
  lightOverTrialOf,
  lightRangeOf,
  potLightOf,
  readingRowsOf,
  ringedThings,
} from '../../derive';
import { lightColour } from '../../ui';
import { ALL_LIGHT, type LightShown } from './shown';
import { fixed } from '../../words';

/**
 * The rack in its light: the field over each shelf with contours, the figure at each pot, meter
 * readings with what they are off by. Direct light alone while a lamp is dragged.
 */
export function lightLook(
  plan: Plan,
  notices: readonly Notice[],
  { showing, counted }: LightShown = ALL_LIGHT,
): RackLook {
  const range = lightRangeOf(plan, counted);
  const low = range?.low ?? 0;
  const span = range ? range.high - range.low : 1;
  const colour = (ppfd: number) => lightColour((ppfd - low) / span);
  const field = new Map<string, FieldOverlay>();
  if (range) {
    for (const shelf of plan.rack.shelves) {
      const picture = shelf.lamps.length > 0 ? fieldOf(plan, shelf, counted) : null;
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
    const light = potLightOf(plan, showing === 'dragging' ? counted : 'reflected');
    const found = showing === 'overTrial' ? lightOverTrialOf(plan) : null;
    const overTrial = found?.ok ? found.value : null;
    for (const { potId, source, ...drawn } of light.pots.values()) {
      const { ppfdUmol, dliMol } = overTrial?.pots.get(potId) ?? drawn;
      const share = Math.min(1, Math.max(0, (ppfdUmol - low) / span));
      const how = overTrial
        ? `mean of ${overTrial.days} days${overTrial.moved ? ' with the rota' : ''}, ${source}`
        : showing === 'dragging'
          ? 'direct light alone'
          : source;
      potPaint.set(potId, {
        fill: colour(ppfdUmol),
        ink: share > 0.55 ? '#17211f' : '#ffffff',
        letter: fixed(ppfdUmol, 0),
        words: `PPFD ${fixed(ppfdUmol, 0)} µmol m⁻² s⁻¹, DLI ${fixed(dliMol, 1)} mol m⁻² d⁻¹, ${how}`,
      });
    }
  }
  const points = showing === 'dragging' ? [] : readingMarks(plan);
  return { potPaint, field, points, ringed: ringedThings(notices, 'light'), editable: 'lamps' };
}

/** Every reading at its place: `214, +3 %` is what was measured and how far the figure is from it. */
function readingMarks(plan: Plan): PointMark[] {
  return readingRowsOf(plan).map(({ reading, measuredUmol, checked }) => {
    const off = checked?.residualPercent ?? null;
    const value = measuredUmol === null ? '?' : fixed(measuredUmol, 0);
    const sign = off !== null && off > 0 ? '+' : '';
    return {
      ref: `reading:${reading.id}`,
      shelfId: reading.shelfId,
      xMm: reading.xMm,
      yMm: reading.yMm,
      zMm: reading.zMm,
      text: off === null ? value : `${value}, ${sign}${fixed(off, 0)} %`,
    };
  });
}

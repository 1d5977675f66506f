import type { Notice } from '../../../../shared-types/notice';
import type { Plan } from '../../../../shared-types/plan';
import type { PotPaint, RackLook } from '../../../canvas/look';
import { DRAWN_MARK } from '../../../canvas/potMarks';
import { ringedThings } from '../../../derive';
import type { FindingsOutcome } from '../../../engine/findings';
import { shownOn, type RackShown } from './rackShown';

/** What the strip says of each pot besides its treatment: the result, and the light it had. */
function toldOf(plan: Plan, outcome: FindingsOutcome | null): Map<string, string[]> {
  const told = new Map<string, string[]>();
  for (const what of ['harvest', 'light'] as const) {
    const shown = shownOn(plan, outcome, what);
    for (const [id, value] of shown?.values ?? []) {
      const text = `${shown?.text(value) ?? ''} ${shown?.unit ?? ''}`.trimEnd();
      told.set(id, [...(told.get(id) ?? []), text]);
    }
  }
  return told;
}

/** The pots coloured by what one wants to see beside the findings; `treatments`: as the layout has them. */
export function findingsLook(
  plan: Plan,
  notices: readonly Notice[],
  outcome: FindingsOutcome | null,
  what: RackShown,
  treatments: ReadonlyMap<string, PotPaint>,
): RackLook {
  const potPaint = new Map<string, PotPaint>(what === 'treatment' ? treatments : []);
  const shown = shownOn(plan, outcome, what);
  if (shown) {
    const span = shown.to - shown.from;
    for (const [id, value] of shown.values) {
      const share = span > 0 ? (value - shown.from) / span : 0.5;
      potPaint.set(id, {
        fill: shown.colour(share),
        ink: shown.isDark(share) ? '#ffffff' : '#17211f',
        letter: shown.text(value),
      });
    }
  }
  const told = toldOf(plan, outcome);
  for (const [id, words] of told) {
    const paint = potPaint.get(id);
    const given = treatments.get(id)?.words;
    if (paint) potPaint.set(id, { ...paint, words: [given, ...words].filter(Boolean).join(' · ') });
  }
  for (const [id, mark] of Object.entries(plan.records.marks)) {
    potPaint.set(id, {
      fill: '#d8d8d2',
      ink: '#17211f',
      mark: DRAWN_MARK[mark.mark],
    });
  }
  // Doubts of earlier stages, ringed by the hundred, would hide the residuals: those have their own.
  return { potPaint, ringed: ringedThings(notices, 'findings'), editable: false };
}

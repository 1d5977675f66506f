import type { Assignment, Layout } from '../../../../shared-types/layout';
import type { Trial } from '../../../../shared-types/trial/trial';
import type { LightAtDraw, TrialInput } from '../input';
import { measuredPots } from '../measuredPots';
import type { Site } from '../site/site';

/** The assignments with what the draw read at each pot, so that no later change can alter it. */
export function withWhatWasRead(
  site: Site,
  assignments: readonly Assignment[],
  readsStart: boolean,
): Assignment[] {
  const numbers = new Map(site.pots.map((pot, i) => [pot.id, i] as const));
  return assignments.map((assignment) => {
    const ppfdUmol = site.ppfd?.[numbers.get(assignment.potId) ?? -1];
    const startValue = readsStart ? site.startByPot?.get(assignment.potId) : undefined;
    return {
      ...assignment,
      ...(ppfdUmol === undefined ? {} : { ppfdUmol }),
      ...(startValue === undefined ? {} : { startValue }),
    };
  });
}

/**
 * The trial as its layout was drawn: by the light that the layout keeps, whatever the lamps give
 * now. Where none is kept the blocks are those that the layout names, and the light is today's.
 */
export function inputAtDraw(
  input: TrialInput,
  layout: Pick<Layout, 'assignments'> | null,
): TrialInput {
  if (!layout) return input;
  const atDraw = readBy(layout, input.rack);
  return atDraw ? { ...input, atDraw } : input;
}

interface Read {
  rack: TrialInput['rack'];
  atDraw: LightAtDraw | null;
}
const read = new WeakMap<object, Read>();

/** What the draw of a layout read; null where some pot came later. The same while rack and layout stay. */
function readBy(layout: Pick<Layout, 'assignments'>, rack: TrialInput['rack']): LightAtDraw | null {
  const last = read.get(layout);
  if (last?.rack === rack) return last.atDraw;
  const atDraw = lightAtDraw(layout, rack);
  read.set(layout, { rack, atDraw });
  return atDraw;
}

function lightAtDraw(
  layout: Pick<Layout, 'assignments'>,
  rack: TrialInput['rack'],
): LightAtDraw | null {
  const blockByPot = new Map(layout.assignments.map(({ potId, block }) => [potId, block] as const));
  const pots = measuredPots(rack);
  // A pot that came later has no place in what was drawn.
  if (pots.some(({ id }) => !blockByPot.has(id))) return null;
  const kept = new Map(
    layout.assignments.flatMap(({ potId, ppfdUmol }) =>
      ppfdUmol === undefined ? [] : [[potId, ppfdUmol] as const],
    ),
  );
  const whole = pots.every(({ id }) => kept.has(id));
  return { ppfdByPot: whole ? kept : null, blockByPot };
}

/** Starting values that the draw balanced, by the pot they stood in then; null where none. */
export function startsAtDraw(layout: Layout): ReadonlyMap<string, number> | null {
  const kept = layout.assignments.flatMap(({ potId, startValue }) =>
    startValue === undefined ? [] : [[potId, startValue] as const],
  );
  return kept.length > 0 ? new Map(kept) : null;
}

/** Whether a draw by this design goes by the light at the pots. */
export const drawReadsLight = ({ blocks, constraint }: Trial): boolean =>
  blocks.by === 'light' || (constraint.acceptanceShare < 1 && constraint.balance.includes('light'));

/** Whether the draw balanced a light that its layout does not keep, so that today's stands for it. */
export const standsOnLightOfToday = (trial: Trial, layout: Layout): boolean =>
  trial.constraint.acceptanceShare < 1 &&
  trial.constraint.balance.includes('light') &&
  layout.assignments.every(({ ppfdUmol }) => ppfdUmol === undefined);

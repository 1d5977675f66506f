import type { Plan } from '../../shared-types/plan';
import { Refusal } from './command';
import { changeOfLayout, lossOf, potsById } from './layoutChange';
import type { LayoutChange } from './layoutChange';
import { sayStanding, standingRecords } from './queries/standing';
import type { StandingRecords } from './queries/standing';

/** What to do instead; the layout stage has a button for each. */
const NEXT_TRIAL = 'To change that, start the next trial from this plan, under Layout.';
const AS_NEW_RUN = 'Do that in a new run or in the next trial; both start under Layout.';

/**
 * Throws a Refusal where an edit would sever records from what they were recorded on, planted or
 * unlocked, whatever command makes it: another draw, other factors or design under values taken
 * after the start, a pot that vanishes with its records. Exchanges and substitutes that are logged
 * pass, and so does correcting a drawing or a name.
 */
export function checkSevering(before: Plan, after: Plan): void {
  const rack = before.rack !== after.rack;
  const design = before.trial !== after.trial || before.layout !== after.layout;
  if (!rack && !design) return;
  const standing = standingRecords(before);
  if (design && standing) checkLayout(before, after, standing);
  if (rack) checkPots(before, after, standing);
}

function checkLayout(before: Plan, after: Plan, standing: StandingRecords): void {
  if (!before.layout) {
    // Levels that nobody shuffled are as true after the harvest as before it.
    const drawn = after.layout && after.trial?.factors.some((f) => f.kind === 'randomised');
    if (!drawn) return;
    throw new Refusal(
      `${verb(standing)} recorded before any draw, so a draw now cannot have given them their treatments. ${AS_NEW_RUN}`,
      { wayOn: 'records-stand' },
    );
  }
  const change = changeOfLayout(before, after);
  if (!change) return;
  throw new Refusal(
    `${verb(standing)} recorded on this layout, so ${stays(change)}. ${wayOn(change)}`,
    { wayOn: 'records-stand' },
  );
}

function stays(change: LayoutChange): string {
  switch (change.of) {
    case 'layout':
      return 'the layout stays';
    case 'trial':
      return 'its trial stays';
    case 'blocks':
      return 'its blocks stay';
    case 'scheme':
      return 'its scheme stays';
    case 'constraint':
      return 'what its draw had to balance stays';
    case 'factors':
      return 'its factors and levels stay';
    case 'draw':
    case 'pot':
      return 'every pot keeps its treatment and plant';
  }
}

/** Runs share factors and design; each has a draw and plants of its own. */
function wayOn(change: LayoutChange): string {
  switch (change.of) {
    case 'layout':
    case 'draw':
    case 'pot':
      return AS_NEW_RUN;
    case 'trial':
    case 'blocks':
    case 'scheme':
    case 'constraint':
    case 'factors':
      return NEXT_TRIAL;
  }
}

/** `424 values and 1 mark were`. */
function verb(standing: StandingRecords): string {
  const one = standing.values + standing.marks + standing.exchanges === 1;
  return `${sayStanding(standing)} ${one ? 'was' : 'were'}`;
}

function checkPots(before: Plan, after: Plan, standing: StandingRecords | null): void {
  const { values, second, marks, secondMarks = {}, notes = {} } = after.records;
  const byPots = [...Object.values(values), ...Object.values(second)];
  const lists = [...byPots, marks, secondMarks, notes];
  const recorded = new Set(lists.flatMap((byPot) => Object.keys(byPot)));
  const drawn = standing ? (before.layout?.assignments ?? []).map(({ potId }) => potId) : [];
  if (recorded.size === 0 && drawn.length === 0) return;
  const was = potsById(before);
  const is = potsById(after);
  for (const potId of recorded) {
    const old = was.get(potId);
    if (!old || is.has(potId)) continue;
    throw new Refusal(`Pot ${old.code} holds records and would vanish; clear its records first.`, {
      wayOn: 'clear-records',
    });
  }
  if (!standing) return;
  for (const potId of new Set([...recorded, ...drawn])) {
    const old = was.get(potId);
    const loss = old ? lossOf(old, is.get(potId)) : null;
    if (!old || loss === null) continue;
    throw new Refusal(
      `Pot ${old.code} is part of a trial with ${sayStanding(standing)} and would ${loss}. ${AS_NEW_RUN}`,
      { wayOn: 'records-stand' },
    );
  }
}

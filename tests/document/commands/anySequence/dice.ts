import { applyCommand } from '../../../../renderer/document/apply';
import type { Outcome } from '../../../../renderer/document/apply';
import type { Command } from '../../../../renderer/document/command';
import { potsOfRack } from '../../../../renderer/engine/geometry';
import type { Plan } from '../../../../shared-types/plan';
import type { RackPlace } from '../../../../shared-types/rack';

/** Takes one of a list, or a stranger where the list is empty or the die says so. */
export interface Dice {
  one<T>(list: readonly T[], stranger: T): T;
  number(): number;
  yes(): boolean;
}

export interface Move {
  name: string;
  make(plan: Plan, dice: Dice): Outcome;
}

export const act =
  <Args>(command: Command<Args>) =>
  (args: (plan: Plan, dice: Dice) => Args): Move => ({
    name: command.name,
    make: (plan, dice) => applyCommand(plan, command, args(plan, dice)),
  });

export const board = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.flatMap(({ boards = [] }) => boards.map(({ id }) => id)),
    'b999',
  );
export const shelf = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.map((s) => s.id),
    's999',
  );
export const tray = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.flatMap((s) => s.trays.map((t) => t.id)),
    't999',
  );
export const lamp = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.shelves.flatMap((s) => s.lamps.map((l) => l.id)),
    'l999',
  );
export const zone = (plan: Plan, dice: Dice) =>
  dice.one(plan.flood?.zones.map((z) => z.id) ?? [], 'z999');
export const kind = (plan: Plan, dice: Dice) =>
  dice.one(
    plan.rack.lampKinds.map((k) => k.id),
    'k999',
  );
export const pot = (plan: Plan, dice: Dice) =>
  dice.one(
    potsOfRack(plan.rack).map((p) => p.id),
    't999:1:1',
  );
export const item = (plan: Plan, dice: Dice) =>
  dice.yes() ? `tray:${tray(plan, dice)}` : `lamp:${lamp(plan, dice)}`;
export const factor = (plan: Plan, dice: Dice) =>
  dice.one(
    (plan.trial?.factors ?? []).map((f) => f.id),
    'f999',
  );
export const level = (plan: Plan, dice: Dice) =>
  dice.one(
    (plan.trial?.factors ?? []).flatMap((f) => f.levels.map((l) => l.id)),
    'v999',
  );
export const measurement = (plan: Plan, dice: Dice) =>
  dice.one(
    (plan.trial?.measurements ?? []).map((m) => m.id),
    'm999',
  );
export const name = (dice: Dice) =>
  dice.one(['light', ' Medium ', 'pH', 'bark', ''], 'x'.repeat(130));
export const date = (dice: Dice) => dice.one(['2026-03-01', '2026-04-05'], 'tomorrow');

export const place = (dice: Dice): RackPlace => ({
  xMm: dice.one([0, 1250], dice.number()),
  yMm: dice.one([0, 650], dice.number()),
  turnDeg: dice.yes() ? 0 : 90,
});

const numbers = [0, 1, 2, 3, 0.3, 12.25, 100, 430.06, -7, 1e9, Number.NaN, Infinity, 250, 1.5];

/** A die that falls as thrown, again and again. */
export function diceOf(throws: readonly number[]): Dice {
  let at = 0;
  const next = () => throws[at++ % throws.length] ?? 0;
  return {
    one: (list, stranger) => {
      const n = next();
      return n % 11 === 10 ? stranger : (list[n % Math.max(list.length, 1)] ?? stranger);
    },
    number: () => numbers[next() % numbers.length] ?? 0,
    yes: () => next() % 2 === 0,
  };
}

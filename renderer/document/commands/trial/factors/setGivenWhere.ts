import { Refusal } from '../../../command';
import type { Command } from '../../../command';
import { change, factorIn, levelIn } from '../../../edit';
import { nameOf, sayThings } from '../../../queries/names';
import { refTo, type RefKind } from '../../../queries/refs';
import type { UnitKind } from '../../../../../shared-types/trial/trial';

/** What a unit is pointed at by; where strips run is settled by the draw alone. */
const refKind = {
  shelf: 'shelf',
  zone: 'zone',
  bay: 'bay',
  tray: 'tray',
  'row-strip': 'pot',
  'column-strip': 'pot',
  pot: 'pot',
} as const satisfies Record<UnitKind, RefKind>;

/** Says which shelves, trays or pots carry a level of a given factor; null takes the level away. */
export const setGivenWhere: Command<{
  factorId: string;
  unitIds: readonly string[];
  levelId: string | null;
}> = {
  name: 'setGivenWhere',
  label: ({ factorId, unitIds, levelId }, plan) => {
    const factor = nameOf(plan, refTo('factor', factorId));
    const unit = plan.trial?.factors.find((f) => f.id === factorId)?.unit;
    const units = sayThings(
      plan,
      unitIds.map((id) => refTo(unit === undefined ? 'pot' : refKind[unit], id)),
    );
    return levelId === null
      ? `Clear ${factor} of ${units}`
      : `Set ${nameOf(plan, refTo('level', levelId))} for ${units}`;
  },
  run: (plan, { factorId, unitIds, levelId }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      if (factor.kind !== 'fixed') {
        throw new Refusal(`The levels of ${factor.name} are assigned by the draw, not by hand.`);
      }
      if (factor.unit === 'row-strip' || factor.unit === 'column-strip') {
        throw new Refusal(
          `${factor.name} has its own treatment for each strip, and only the draw decides where strips run.`,
        );
      }
      if (levelId !== null) levelIn(factor, levelId);
      const named = new Set(unitIds);
      const others = factor.where.filter((place) => !named.has(place.unitId));
      const places = levelId === null ? [] : [...named].map((unitId) => ({ unitId, levelId }));
      factor.where = [...others, ...places];
    }),
};

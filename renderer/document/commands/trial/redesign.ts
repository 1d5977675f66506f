import type { Command } from '../../command';
import { change, factorIn, trialIn } from '../../edit';
import { nameOf } from '../../queries/names';
import { refTo } from '../../queries/refs';
import type { UnitKind } from '../../../../shared-types/trial/trial';
import type { Blocks, Scheme } from '../../../../shared-types/trial/scheme';

/** Lays a factor on another unit, to be shuffled, with the blocks and scheme this asks for. */
export const redesign: Command<{
  factorId: string;
  unit: UnitKind;
  blocks: Blocks;
  scheme: Scheme;
}> = {
  name: 'redesign',
  label: ({ factorId, unit }, plan) =>
    `Lay ${nameOf(plan, refTo('factor', factorId))} on ${unit === 'shelf' ? 'shelves' : `${unit}s`}`,
  run: (plan, { factorId, unit, blocks, scheme }) =>
    change(plan, (draft) => {
      const factor = factorIn(draft, factorId);
      factor.unit = unit;
      factor.kind = 'randomised';
      factor.where = [];
      Object.assign(trialIn(draft), { blocks, scheme });
    }),
};

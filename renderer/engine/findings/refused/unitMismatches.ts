import { capital } from '../../../words';
import { unitWords } from '../../../../shared-types/trial/trial';
import { constantWithinUnits, levelsPresent, unitColumn, type FactorRole } from '../model/roles';
import { type TrialTable } from '../table/table';
import { COLUMN } from '../table/columns';

/** A factor that is judged by smaller units than those within which it never varies. */
export interface UnitMismatch {
  factor: string;
  chosen: 'pot' | 'tray';
  never: 'tray' | 'shelf';
  /** How many of those units there are. */
  units: number;
}

/**
 * Factors whose chosen unit is smaller than the unit within which they are the same everywhere:
 * what plants of one tray share is then taken for the treatment (pseudoreplication, Hurlbert 1984,
 * Ecological Monographs 54, 187–211).
 */
export function unitMismatches(data: TrialTable, roles: readonly FactorRole[]): UnitMismatch[] {
  return roles.flatMap((role): UnitMismatch[] => {
    const { unit: chosen, column } = role;
    if (role.unitsPerLevel.size < 2 || (chosen !== 'pot' && chosen !== 'tray')) return [];
    const wider = chosen === 'pot' ? (['shelf', 'tray'] as const) : (['shelf'] as const);
    const never = wider.find((unit) => {
      const names = levelsPresent(data, unitColumn(unit));
      const smaller =
        chosen === 'pot' ? data.table.rowCount : levelsPresent(data, COLUMN.tray).length;
      // Where every unit holds a single one of the smaller, the two are the same.
      return (
        names.length > 1 &&
        names.length < smaller &&
        constantWithinUnits(data, column, COLUMN[unit])
      );
    });
    if (!never) return [];
    const units = levelsPresent(data, COLUMN[never]).length;
    return [{ factor: role.factor.name, chosen, never, units }];
  });
}

/** What is wrong, why it matters and what to do, as sentences. */
export function unitMismatchWords({ factor, chosen, never, units }: UnitMismatch): {
  text: string;
  remedy: string;
} {
  const [small, large] = [unitWords[chosen], unitWords[never]];
  return {
    text:
      `${capital(factor)} never varies within a ${large.one} (there are ${units}), but is judged by ${small.many}. ` +
      `${capital(small.many)} of one ${large.one} share more than ${factor}, so this can make chance look like a result.`,
    remedy: `Take ${factor} as a treatment of whole ${large.many}.`,
  };
}

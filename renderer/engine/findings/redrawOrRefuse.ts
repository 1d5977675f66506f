import { Refusal } from '../../words';
import { redrawTest } from './redraw';
import { redrawTable } from './redrawTable';

/** `redrawTest`; a plan or records that it cannot redraw are refused. */
export const redrawPlanOrRefuse: typeof redrawTest = (...asked) =>
  refusing(() => redrawTest(...asked));

/** `redrawTable`; a table that it cannot redraw is refused. */
export const redrawTableOrRefuse: typeof redrawTable = (...asked) =>
  refusing(() => redrawTable(...asked));

/** Redraws say what hinders them in plain errors; those of the language are mistakes and go on. */
function refusing<T>(redraw: () => T): T {
  try {
    return redraw();
  } catch (error) {
    if (!(error instanceof Error) || error.name !== 'Error') throw error;
    throw new Refusal(error.message, { cause: error });
  }
}

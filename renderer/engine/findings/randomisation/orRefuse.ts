import { Refusal } from '../../../words';
import { randomisationTest } from './test';
import { tableRandomisationTest } from './table';

/** `randomisationTest`; a plan or records that it cannot test are refused. */
export const randomisationTestOrRefuse: typeof randomisationTest = (...asked) =>
  refusing(() => randomisationTest(...asked));

/** `tableRandomisationTest`; a table that it cannot test is refused. */
export const tableRandomisationOrRefuse: typeof tableRandomisationTest = (...asked) =>
  refusing(() => tableRandomisationTest(...asked));

/** The tests say what hinders them in plain errors; those of the language are mistakes and go on. */
function refusing<T>(test: () => T): T {
  try {
    return test();
  } catch (error) {
    if (!(error instanceof Error) || error.name !== 'Error') throw error;
    throw new Refusal(error.message, { cause: error });
  }
}

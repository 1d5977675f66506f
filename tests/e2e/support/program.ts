import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type * as forSpecs from './forSpecs';

/**
 * The program itself, as `npm run test:e2e` has bundled it: the runner of the specs loads hundreds
 * of sources in twenty seconds, once for itself and once for each of its workers.
 */
const bundle = join(import.meta.dirname, '../../../node_modules/.cache/evenrack/e2e/forSpecs.mjs');
export const program = (await import(pathToFileURL(bundle).href)) as typeof forSpecs;

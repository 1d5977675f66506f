import { version } from '../../package.json';

/** Kept in every drawn layout: a draw is repeatable with the same engine only. */
export const engineVersion: string = version;

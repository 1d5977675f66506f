import type { Verb } from '../verb';
import { fitVerb } from './fit';
import { powerVerb } from './power';

/** Every verb there is, in the order in which `help` lists them. */
export const verbs: readonly Verb[] = [powerVerb, fitVerb];

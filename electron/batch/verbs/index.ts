import type { Verb } from '../verb';
import { fitVerb } from './fit';

/** Every verb there is, in the order in which `help` lists them. */
export const verbs: readonly Verb[] = [fitVerb];

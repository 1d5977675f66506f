import type { Verb } from '../verb';
import { checkVerb } from './check';
import { drawVerb } from './draw';
import { findingsVerb } from './findings';
import { fitVerb } from './fit';
import { lightVerb } from './light';
import { powerVerb } from './power';
import { rehearseVerb } from './rehearse';

/** Every verb there is, in the order in which `help` lists them. */
export const verbs: readonly Verb[] = [
  checkVerb,
  lightVerb,
  drawVerb,
  rehearseVerb,
  powerVerb,
  findingsVerb,
  fitVerb,
];

import type { Verb } from '../verb';
import { checkVerb } from './check';
import { drawVerb } from './draw';
import { exportVerb } from './export';
import { findingsVerb } from './findings';
import { fitVerb } from './fit';
import { floodVerb } from './flood';
import { lightVerb } from './light';
import { powerVerb } from './power';
import { printVerb } from './print';
import { recordVerb } from './record';
import { rehearseVerb } from './rehearse';

/** Every verb there is, in the order in which `help` lists them. */
export const verbs: readonly Verb[] = [
  checkVerb,
  lightVerb,
  floodVerb,
  drawVerb,
  rehearseVerb,
  powerVerb,
  printVerb,
  recordVerb,
  findingsVerb,
  fitVerb,
  exportVerb,
];

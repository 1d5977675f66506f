import { expose } from 'comlink';
import { findingsOf } from '../engine/findings';
import type { FindingsChoice } from '../derive';
import type { FindingsInput } from '../engine/findings';

/** Long computations, off the screen's thread. */
const jobs = {
  findings: (input: FindingsInput, choice: FindingsChoice) =>
    findingsOf(input, {
      measurementId: choice.measurementId,
      ...(choice.index ? { index: choice.index } : {}),
    }),
};

export type Jobs = typeof jobs;

expose(jobs);

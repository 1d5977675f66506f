import { expose } from 'comlink';
import { jobs, type JobInput, type JobName, type Progress } from '../../derive';
import type { Locale } from '../../../shared-types/window/locale';
import { speakAs } from '../../words';
import { answerOf } from './jobAnswer';

const run = (name: JobName, input: JobInput<JobName>, locale: Locale, tell: Progress) => {
  // Its sentences are read in the window.
  speakAs(locale);
  return answerOf(() =>
    (jobs[name] as (input: JobInput<JobName>, tell: Progress) => unknown)(input, tell),
  );
};

export type RunJob = typeof run;

expose(run);

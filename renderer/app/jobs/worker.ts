import { expose } from 'comlink';
import { jobs, type JobInput, type JobName, type Progress } from '../../derive';
import { answerOf } from './jobAnswer';

const run = (name: JobName, input: JobInput<JobName>, tell: Progress) =>
  answerOf(() =>
    (jobs[name] as (input: JobInput<JobName>, tell: Progress) => unknown)(input, tell),
  );

export type RunJob = typeof run;

expose(run);

import { expose } from 'comlink';
import { jobs, type JobInput, type JobName, type Progress } from '../derive';

const run = (name: JobName, input: JobInput<JobName>, tell: Progress) =>
  (jobs[name] as (input: JobInput<JobName>, tell: Progress) => unknown)(input, tell);

export type RunJob = typeof run;

expose(run);

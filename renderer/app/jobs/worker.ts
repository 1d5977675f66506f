import { expose } from 'comlink';
import { doJob } from '../../derive';

export type RunJob = typeof doJob;

expose(doJob);

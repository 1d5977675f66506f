import { createContext, useContext, useEffect, useRef, useState } from 'react';
import type { JobInput, JobName, JobResult, RunningJob, StartJob } from '../derive';
import { Refusal } from '../words';

export const JobsContext = createContext<StartJob | null>(null);

/** Starts a job whose answer outlives the screen that asked for it. */
export function useStartJob(): StartJob {
  const startJob = useContext(JobsContext);
  if (!startJob) throw new Error('useStartJob: found no JobsContext around it; one is expected');
  return startJob;
}

export interface JobState<Result> {
  running: boolean;
  /** From 0 to 1; null before the first word of it. */
  progress: number | null;
  result: Result | null;
  /** Why the work was refused. */
  problem: string | null;
}

/** How a job ends that gives no result: refused, or by a mistake of the program's. */
export function endOf(error: unknown): { problem: string } | { fault: unknown } {
  return error instanceof Refusal ? { problem: error.message } : { fault: error };
}

/**
 * One kind of long work with its progress; starting it anew, or leaving the screen, ends it. Throws
 * a mistake of the work's while drawing, so that the boundary around the screen tells of it.
 */
export function useJob<Name extends JobName>(
  name: Name,
): JobState<JobResult<Name>> & { start: (input: JobInput<Name>) => void; cancel: () => void } {
  const startJob = useStartJob();
  const idle = { running: false, progress: null, result: null, problem: null };
  const [state, setState] = useState<JobState<JobResult<Name>> & { fault?: unknown }>(idle);
  const job = useRef<RunningJob<JobResult<Name>> | null>(null);
  useEffect(() => () => job.current?.cancel(), []);
  if ('fault' in state) throw state.fault;

  const start = (input: JobInput<Name>) => {
    job.current?.cancel();
    setState({ ...idle, running: true });
    const own = startJob(name, input, (done, total) => {
      if (job.current === own) setState((s) => ({ ...s, progress: done / total }));
    });
    job.current = own;
    own.result.then(
      (result) => {
        if (job.current === own) setState({ ...idle, result });
      },
      (error: unknown) => {
        if (job.current !== own) return;
        setState({ ...idle, ...endOf(error) });
      },
    );
  };
  const cancel = () => {
    job.current?.cancel();
    job.current = null;
    setState(idle);
  };
  return { ...state, start, cancel };
}

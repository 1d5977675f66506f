import { Problem } from './Problem';
import type { ReactNode } from 'react';
import { Button } from './Button';

/** A button for long work: starts it; while it runs, shows how far it is and cancels it. */
export function JobButton(props: {
  job: {
    running: boolean;
    /** From 0 to 1; null before the first word of it. */
    progress: number | null;
    problem: string | null;
    cancel: () => void;
  };
  label: string;
  /** What the progress is of, for those who hear the screen. */
  progressOf: string;
  onStart: () => void;
  tone?: 'primary';
  disabled?: boolean;
  testId: string;
  /** Further buttons beside it. */
  children?: ReactNode;
}) {
  const { job } = props;
  return (
    <>
      <div className="section-actions">
        {job.running ? (
          <>
            <Button onClick={job.cancel}>Cancel</Button>
            <progress value={job.progress ?? 0} max={1} aria-label={props.progressOf} />
          </>
        ) : (
          <Button
            {...(props.tone ? { tone: props.tone } : {})}
            disabled={props.disabled}
            onClick={props.onStart}
            data-testid={props.testId}
          >
            {props.label}
          </Button>
        )}
        {props.children}
      </div>
      <Problem text={job.problem} />
    </>
  );
}

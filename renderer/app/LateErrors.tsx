import { useEffect, useState } from 'react';
import { endOf } from '../store/jobsContext';

/**
 * What fails after the call that began it has returned, and that nobody has caught. A refusal is
 * said; a mistake of the program's is thrown while drawing, so that the guard around this tells of it.
 */
export function LateErrors({ say }: { say: (problem: string) => void }): null {
  const [late, setLate] = useState<{ fault: unknown } | null>(null);
  useEffect(() => {
    const hear = ({ reason }: PromiseRejectionEvent) => {
      const end = endOf(reason);
      if ('fault' in end) setLate(end);
      else say(end.problem);
    };
    window.addEventListener('unhandledrejection', hear);
    return () => window.removeEventListener('unhandledrejection', hear);
  }, [say]);
  if (late) throw late.fault;
  return null;
}

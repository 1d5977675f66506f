/** What has to be undone at once if a signal ends the program now. */
const undoings = new Set<() => void>();
const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
let tidies = false;

/**
 * From now on a signal that ends this process first undoes what `orUndo` was told of. While there
 * is nothing to undo the signals keep their usual force: a handler would have to wait for the end
 * of a long computation.
 */
export function tidyOnSignals(): void {
  tidies = true;
}

/**
 * Does work that leaves something behind if it is cut off, such as a file beside another. `undo`
 * must be quick, synchronous, and harmless where there is nothing to undo.
 */
export async function orUndo<T>(undo: () => void, work: () => Promise<T>): Promise<T> {
  if (tidies && undoings.size === 0) for (const signal of signals) process.on(signal, end);
  undoings.add(undo);
  try {
    return await work();
  } finally {
    undoings.delete(undo);
    if (undoings.size === 0) for (const signal of signals) process.off(signal, end);
  }
}

function end(signal: NodeJS.Signals): void {
  for (const undo of [...undoings].reverse()) {
    try {
      undo();
    } catch (error) {
      // The others are still to be undone, and the process ends either way.
      void error;
    }
  }
  for (const one of signals) process.off(one, end);
  // Ends as it would have without us, so that the shell learns the reason.
  process.kill(process.pid, signal);
}

// A program that is run to its end.
import { spawn } from 'node:child_process';

/** A program of another system is refused at once, others a moment later. */
export function spawned(program, words, options) {
  try {
    return spawn(program, words, options);
  } catch (error) {
    return unrunnable(error);
  }
}

export const unrunnable = ({ code }) => ({ failed: `it cannot be run (${code})` });

/**
 * What ends this program ends the app. Ctrl+C comes to the app as to this program, which waits for
 * it to close: a second one is what kills.
 */
export function tie(child) {
  const wait = () => undefined;
  const pass = (signal) => child.kill(signal);
  process.on('SIGINT', wait);
  for (const signal of ['SIGTERM', 'SIGHUP']) process.on(signal, pass);
  return () => {
    process.off('SIGINT', wait);
    for (const signal of ['SIGTERM', 'SIGHUP']) process.off(signal, pass);
  };
}

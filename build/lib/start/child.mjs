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
 * What ends this program ends the other, and then this one. Ctrl+C comes to both at once, and this
 * one waits: the other may still have a question; a second Ctrl+C is what kills it.
 * @returns {{ untie(): void, asked(): boolean }} `asked`: whether somebody asked for the end
 */
export function tie(child) {
  let asked = false;
  const wait = () => (asked = true);
  const pass = (signal) => {
    asked = true;
    child.kill(signal);
  };
  process.on('SIGINT', wait);
  for (const signal of ['SIGTERM', 'SIGHUP']) process.on(signal, pass);
  return {
    asked: () => asked,
    untie() {
      process.off('SIGINT', wait);
      for (const signal of ['SIGTERM', 'SIGHUP']) process.off(signal, pass);
    },
  };
}

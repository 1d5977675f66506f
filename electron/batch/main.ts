import { fileTrouble, troubleInWords } from '../services/files/fileTrouble';
import { tidyOnSignals } from '../services/files/leftovers';
import { BatchError, isBadInput } from './batchError';
import { runBatch } from './run';
import { onAllProcessors, type WorkerCode } from './threads';
import { verbs } from './verbs/index';

/**
 * Runs the call that stands on the command line and sets the exit code: that of `runBatch`, or 1
 * where the program itself is at fault. `workerCode`: that of the threads, for long work.
 */
export async function main(workerCode: WorkerCode): Promise<void> {
  tidyOnSignals();
  const streams = {
    out: (text: string) => write(process.stdout, text),
    err: (text: string) => write(process.stderr, text),
  };
  try {
    const words = process.argv.slice(2);
    process.exitCode = await runBatch(words, verbs, streams, onAllProcessors(workerCode));
  } catch (error) {
    // What was to be said of bad input could not be written either.
    process.exitCode = isBadInput(error) ? 2 : 1;
    await write(process.stderr, sayFault(error)).catch((_nobodyReads: unknown) => undefined);
  }
}

/** Throws where not all of the text could be written. */
function write(stream: NodeJS.WriteStream, text: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const end = (error?: Error | null): void => {
      // A reader that has enough (`| head`) closes the pipe: no trouble of ours.
      if (!error || ('code' in error && error.code === 'EPIPE')) resolve();
      else
        reject(
          new BatchError(
            'output',
            `cannot be written, ${fileTrouble(error)}`,
            'room for all of it is expected',
          ),
        );
    };
    // The stream tells of the same error once more.
    stream.on('error', () => undefined);
    stream.write(text, end);
  });
}

function sayFault(error: unknown): string {
  const trace = process.env['EVENRACK_TRACE'] && error instanceof Error ? error.stack : undefined;
  if (trace !== undefined) return `${trace}\n`;
  return (
    `Evenrack is at fault, not the input: ${troubleInWords(error)}. ` +
    'Please report it; with EVENRACK_TRACE=1 it says where.\n'
  );
}

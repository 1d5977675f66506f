import { runBatch } from './run';
import { verbs } from './verbs/index';

// A reader that has enough (`| head`) closes the pipe: no trouble of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

process.exitCode = await runBatch(process.argv.slice(2), verbs, {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
});

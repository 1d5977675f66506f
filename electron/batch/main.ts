import { runBatch } from './run';
import { verbs } from './verbs/index';

process.exitCode = await runBatch(process.argv.slice(2), verbs, {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
});

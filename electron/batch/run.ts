import { engineVersion } from '../../renderer/derive';
import { BatchError, isBadInput, sayError } from './batchError';
import { asJson, refuseInput, writeResult } from './output';
import { askedInstead, readArguments, Text, usage } from './verb';
import type { Verb } from './verb';

/** Where results and complaints go; waited for. A stream that cannot take all of the text throws. */
export interface Streams {
  out(text: string): unknown;
  err(text: string): unknown;
}

/**
 * Runs one call and gives its exit code: 0 with one document on standard output (or in `--out
 * FILE`, which is written whole or not at all), 1 where the document names parts that failed, or 2
 * with one line on standard error where the input is bad. Anything else that goes wrong is our fault and is thrown.
 */
export async function runBatch(
  words: readonly string[],
  verbs: readonly Verb[],
  streams: Streams,
): Promise<number> {
  try {
    const [name, ...rest] = words;
    const verb = verbs.find((candidate) => candidate.name === name) ?? null;
    const asked = name === undefined || name === 'help' ? 'help' : askedInstead(verb, words);
    if (name === undefined || asked) {
      await streams.out(
        asked === 'version' ? `Evenrack ${engineVersion}\n` : help(verb ? [verb] : verbs),
      );
      return 0;
    }
    if (!verb) {
      const names = ['help', ...verbs.map((candidate) => candidate.name)].join(', ');
      throw new BatchError(name, 'no such verb', `expected one of ${names}`);
    }
    const args = readArguments(verb, rest);
    const file = 'out' in verb.options ? undefined : args.optional('out');
    if (file !== undefined) await refuseInput(`--out ${file}`, file, args.inputs);
    const result = await verb.run(args);
    const text = result instanceof Text ? result.text : `${asJson(result, 2)}\n`;
    if (file === undefined) await streams.out(text);
    else await writeResult({ option: 'out', path: file }, text);
    return result instanceof Text ? result.exitCode : 0;
  } catch (error) {
    if (!isBadInput(error)) throw error;
    await streams.err(`${sayError(error)}\n`);
    return 2;
  }
}

function help(verbs: readonly Verb[]): string {
  const lines = verbs.map((verb) => `  ${usage(verb)}\n      ${verb.gives}`);
  return [
    'npm run -s batch -- <verb> <arguments>',
    '',
    ...lines,
    '  help\n      This list. `--help` after a verb: that verb. `--version`: the version.',
    '',
    'Paths count from where you stand. No input is ever overwritten.',
    'Exit 0: one JSON document on standard output, or in FILE.',
    'Exit 1: of many tables some failed; the result names them.',
    'Exit 2: bad input, one line on standard error: where: what was found; what is expected.',
    '',
  ].join('\n');
}

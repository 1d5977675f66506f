import { engineVersion, startHere, type StartJob } from '../../renderer/derive';
import { BatchError, isBadInput, sayError } from './batchError';
import { asJson, refuseFile, refuseInput, writeResult } from './output';
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
  startJob: StartJob = startHere,
): Promise<number> {
  try {
    const text = askedText(words, verbs);
    if (text !== null) {
      await streams.out(text);
      return 0;
    }
    const [name = '', ...rest] = words;
    const verb = verbNamed(name, verbs);
    const args = readArguments(verb, rest);
    const file = 'out' in verb.options ? undefined : args.optional('out');
    if (file !== undefined) {
      await refuseInput(`--out ${file}`, file, args.inputs);
      await refuseFile({ option: 'out', path: file });
    }
    const result = await verb.run(args, startJob);
    const given = result instanceof Text ? result.text : `${asJson(result, 2)}\n`;
    if (file === undefined) await streams.out(given);
    else await writeResult({ option: 'out', path: file }, given);
    return result instanceof Text ? result.exitCode : 0;
  } catch (error) {
    if (!isBadInput(error)) throw error;
    await streams.err(`${sayError(error)}\n`);
    return 2;
  }
}

/** The text that a call asks for instead of a verb's work; null: the work. */
function askedText(words: readonly string[], verbs: readonly Verb[]): string | null {
  const [name, about] = words;
  if (name === undefined) return help(verbs);
  if (name === 'help') {
    return help(about === undefined || about.startsWith('-') ? verbs : [verbNamed(about, verbs)]);
  }
  const verb = verbs.find((candidate) => candidate.name === name) ?? null;
  switch (askedInstead(verb, words)) {
    case 'version':
      return `Evenrack ${engineVersion}\n`;
    case 'help':
      return help(verb ? [verb] : verbs);
    case null:
      return null;
  }
}

function verbNamed(name: string, verbs: readonly Verb[]): Verb {
  const verb = verbs.find((candidate) => candidate.name === name);
  if (verb) return verb;
  const names = ['help', ...verbs.map((candidate) => candidate.name)].join(', ');
  throw new BatchError(name, 'no such verb', `expected one of ${names}`);
}

function help(verbs: readonly Verb[]): string {
  const lines = verbs.map((verb) => `  ${usage(verb)}\n      ${verb.gives}`);
  return [
    'npm run -s batch -- <verb> <arguments>',
    '',
    ...lines,
    '  help\n      This list. `help VERB`, or `--help` after it: that verb. `--version`: the version.',
    '',
    'Paths count from where you stand. No input is ever overwritten.',
    'Exit 0: one JSON document on standard output, or in FILE.',
    'Exit 1: of many tables some failed; the result names them.',
    'Exit 2: bad input, one line on standard error: where: what was found; what is expected.',
    '',
  ].join('\n');
}

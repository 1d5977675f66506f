import { parseArgs } from 'node:util';
import type { StartJob } from '../../renderer/derive';
import { BatchError } from './batchError';

/**
 * What an option takes: nothing, or a value by the name that `help` gives it. `reads`: the value is
 * a file or folder that the verb reads.
 */
export type OptionKind =
  | 'flag'
  | { readonly value: string; readonly needed: boolean; readonly reads?: true };

export interface Verb {
  readonly name: string;
  /** One sentence for `help`. */
  readonly gives: string;
  /** Names of the positional arguments: files to read, all of them required. */
  readonly takes: readonly string[];
  /** By name, without the dashes. `out` need not be listed: it is the file for the result, unless
   * the verb declares an `out` of its own, such as a folder that it fills. */
  readonly options: Readonly<Record<string, OptionKind>>;
  /** Gives the result: a `Text` as it is, anything else as JSON. Long work is for `startJob`; without it all is done here. */
  run(args: VerbArguments, startJob?: StartJob): unknown;
}

/** A result that is not one JSON document, such as CSV. */
export class Text {
  /** `exitCode` 1: the result stands, but a part of what was asked failed, and the text says which. */
  constructor(
    readonly text: string,
    readonly exitCode: 0 | 1 = 0,
  ) {}
}

/** The arguments of one call, already checked against what the verb declares. */
export class VerbArguments {
  constructor(
    private readonly positionals: ReadonlyMap<string, string>,
    private readonly values: ReadonlyMap<string, string>,
    private readonly flags: ReadonlySet<string>,
    /** Files and folders that the verb reads; nothing may be written over them. */
    readonly inputs: readonly string[],
  ) {}

  positional(name: string): string {
    return given(this.positionals, name);
  }

  flag(name: string): boolean {
    return this.flags.has(name);
  }

  optional(name: string): string | undefined {
    return this.values.get(name);
  }

  /** The value of an option that the verb declares as needed. */
  needed(name: string): string {
    return given(this.values, name);
  }
}

/** Only for what `readArguments` has made sure of. */
function given(values: ReadonlyMap<string, string>, name: string): string {
  const value = values.get(name);
  if (value === undefined) throw new TypeError(`the verb does not declare ${name}`);
  return value;
}

const resultFile: OptionKind = { value: 'FILE', needed: false };

function optionsOf(verb: Verb): Map<string, OptionKind> {
  return new Map(Object.entries({ ...verb.options, out: verb.options['out'] ?? resultFile }));
}

const asked = {
  help: { type: 'boolean', short: 'h' },
  version: { type: 'boolean' },
} as const;

/** What a call asks for instead of a verb's work; null: the work. An option's value asks nothing. */
export function askedInstead(
  verb: Verb | null,
  words: readonly string[],
): keyof typeof asked | null {
  const { values } = parse(verb, words);
  if (values['help'] === true) return 'help';
  return values['version'] === true ? 'version' : null;
}

/** The one place where words become arguments; what is wrong with them is said by `readArguments`. */
function parse(verb: Verb | null, words: readonly string[]) {
  const known = verb ? [...optionsOf(verb)] : [];
  const options = known.map(
    ([name, kind]) => [name, { type: kind === 'flag' ? 'boolean' : 'string' }] as const,
  );
  return parseArgs({
    args: [...words],
    options: { ...asked, ...Object.fromEntries(options) },
    strict: false,
    tokens: true,
    allowPositionals: true,
  });
}

/** Reads the arguments after the verb's name. Throws a BatchError on any that it does not know. */
export function readArguments(verb: Verb, words: readonly string[]): VerbArguments {
  const known = optionsOf(verb);
  const values = new Map<string, string>();
  const flags = new Set<string>();
  const { tokens, positionals } = parse(verb, words);
  for (const token of tokens) {
    if (token.kind !== 'option') continue;
    const { name, rawName, value, inlineValue } = token;
    const kind = rawName.startsWith('--') ? known.get(name) : undefined;
    if (kind === undefined) {
      const names = [...known.keys()].map((option) => `--${option}`).join(', ');
      throw new BatchError(rawName, `${verb.name} has no such option`, `expected ${names}`);
    }
    if (values.has(name) || flags.has(name)) {
      throw new BatchError(`--${name}`, 'given twice', 'expected once');
    }
    if (kind === 'flag') {
      if (value !== undefined)
        throw new BatchError(`--${name}`, 'given a value', 'expected without one');
      flags.add(name);
      continue;
    }
    if (value === undefined || value === '') {
      throw new BatchError(`--${name}`, 'no value follows it', `${kind.value} is expected`);
    }
    if (inlineValue === false && isOption(value, known)) {
      throw new BatchError(
        `--${name}`,
        `the option ${value} follows it`,
        `${kind.value} is expected; --${name}=${value} if that is meant`,
      );
    }
    values.set(name, value);
  }
  if (positionals.length !== verb.takes.length) {
    const found = `${positionals.length} ${positionals.length === 1 ? 'argument' : 'arguments'}`;
    throw new BatchError(
      verb.name,
      `found ${found}${positionals.length > 0 ? ` (${positionals.join(' ')})` : ''}`,
      `expected ${usage(verb)}`,
    );
  }
  for (const [name, kind] of known) {
    if (kind !== 'flag' && kind.needed && !values.has(name)) {
      throw new BatchError(`--${name}`, 'not given', `${kind.value} is expected`);
    }
  }
  const read = [...values].filter(([name]) => readsItsValue(known.get(name)));
  return new VerbArguments(
    new Map(verb.takes.map((name, i) => [name, positionals[i] ?? ''])),
    values,
    flags,
    [...positionals, ...read.map(([, value]) => value)],
  );
}

/** A value was forgotten, and the option after it would become the name of a file. */
const isOption = (word: string, known: ReadonlyMap<string, OptionKind>): boolean =>
  word === '-h' || (word.startsWith('--') && (word.slice(2) in asked || known.has(word.slice(2))));

function readsItsValue(kind: OptionKind | undefined): boolean {
  return typeof kind === 'object' && kind.reads === true;
}

/** `fit REQUEST --table DATA.csv [--out FILE]` */
export function usage(verb: Verb): string {
  const options = [...optionsOf(verb)].map(([name, kind]) => {
    const words = kind === 'flag' ? `--${name}` : `--${name} ${kind.value}`;
    return kind !== 'flag' && kind.needed ? words : `[${words}]`;
  });
  return [verb.name, ...verb.takes, ...options].join(' ');
}

import { BatchError } from './batch-error';

/** `value` takes the next argument; `flag` takes none. */
export type OptionKind = 'value' | 'flag';

export interface Verb {
  readonly name: string;
  /** One sentence for `help`. */
  readonly gives: string;
  /** Names of the positional arguments, all of them required. */
  readonly takes: readonly string[];
  /** Besides `--out FILE`, which every verb has. */
  readonly options: Readonly<Record<string, OptionKind>>;
  /** Where `--out` names a folder that the verb fills itself; otherwise it is the result's file. */
  readonly fillsFolder?: true;
  /** Gives the result: a `Text` as it is, anything else as JSON. */
  run(args: VerbArguments): unknown;
}

/** A result that is not JSON, such as CSV. */
export class Text {
  constructor(readonly text: string) {}
}

/** The arguments of one call, already checked against what the verb declares. */
export class VerbArguments {
  constructor(
    private readonly positionals: ReadonlyMap<string, string>,
    private readonly values: ReadonlyMap<string, string>,
    private readonly flags: ReadonlySet<string>,
  ) {}

  positional(name: string): string {
    const value = this.positionals.get(name);
    if (value === undefined) throw new BatchError(name, 'not given', 'a value is expected');
    return value;
  }

  flag(name: string): boolean {
    return this.flags.has(name);
  }

  optional(name: string): string | undefined {
    return this.values.get(name);
  }

  required(name: string, expected: string): string {
    const value = this.values.get(name);
    if (value === undefined)
      throw new BatchError(`--${name}`, 'not given', `${expected} is expected`);
    return value;
  }
}

/** Reads the arguments after the verb's name. Throws a BatchError on any that it does not know. */
export function readArguments(verb: Verb, words: readonly string[]): VerbArguments {
  const known = new Map<string, OptionKind>([...Object.entries(verb.options), ['out', 'value']]);
  const values = new Map<string, string>();
  const flags = new Set<string>();
  const rest: string[] = [];
  for (let i = 0; i < words.length; i++) {
    const word = words[i] ?? '';
    if (!word.startsWith('--') || word === '--') {
      rest.push(word);
      continue;
    }
    const equals = word.indexOf('=');
    const name = equals < 0 ? word.slice(2) : word.slice(2, equals);
    const kind = known.get(name);
    if (kind === undefined) {
      const names = [...known.keys()].map((option) => `--${option}`).join(', ');
      throw new BatchError(`--${name}`, `${verb.name} has no such option`, `expected ${names}`);
    }
    if (values.has(name) || flags.has(name)) {
      throw new BatchError(`--${name}`, 'given twice', 'expected once');
    }
    if (kind === 'flag') {
      if (equals >= 0) throw new BatchError(`--${name}`, 'given a value', 'expected without one');
      flags.add(name);
      continue;
    }
    const value = equals < 0 ? words[++i] : word.slice(equals + 1);
    if (value === undefined || value === '') {
      throw new BatchError(`--${name}`, 'no value follows it', 'a value is expected');
    }
    values.set(name, value);
  }
  if (rest.length !== verb.takes.length) {
    throw new BatchError(
      verb.name,
      `found ${rest.length} ${rest.length === 1 ? 'argument' : 'arguments'}${rest.length > 0 ? ` (${rest.join(' ')})` : ''}`,
      `expected ${usage(verb)}`,
    );
  }
  return new VerbArguments(
    new Map(verb.takes.map((name, i) => [name, rest[i] ?? ''])),
    values,
    flags,
  );
}

/** `fit REQUEST --table VALUE [--out FILE]` */
export function usage(verb: Verb): string {
  const options = Object.entries(verb.options).map(([name, kind]) =>
    kind === 'flag' ? `[--${name}]` : `[--${name} VALUE]`,
  );
  const out = verb.fillsFolder ? '--out FOLDER' : '[--out FILE]';
  return [verb.name, ...verb.takes, ...options, out].join(' ');
}

import { BatchError } from './batch-error';

/** What an option takes: nothing, or a value by the name that `help` gives it. */
export type OptionKind = 'flag' | { readonly value: string; readonly needed: boolean };

export interface Verb {
  readonly name: string;
  /** One sentence for `help`. */
  readonly gives: string;
  /** Names of the positional arguments, all of them required. */
  readonly takes: readonly string[];
  /** By name, without the dashes. `out` need not be listed: it is the file for the result, unless
   * the verb declares an `out` of its own, such as a folder that it fills. */
  readonly options: Readonly<Record<string, OptionKind>>;
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

function optionsOf(verb: Verb): [string, OptionKind][] {
  return Object.entries({ ...verb.options, out: verb.options['out'] ?? resultFile });
}

/** Reads the arguments after the verb's name. Throws a BatchError on any that it does not know. */
export function readArguments(verb: Verb, words: readonly string[]): VerbArguments {
  const known = new Map(optionsOf(verb));
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
      throw new BatchError(`--${name}`, 'no value follows it', `${kind.value} is expected`);
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
  for (const [name, kind] of known) {
    if (kind !== 'flag' && kind.needed && !values.has(name)) {
      throw new BatchError(`--${name}`, 'not given', `${kind.value} is expected`);
    }
  }
  return new VerbArguments(
    new Map(verb.takes.map((name, i) => [name, rest[i] ?? ''])),
    values,
    flags,
  );
}

/** `fit REQUEST --table DATA.csv [--out FILE]` */
export function usage(verb: Verb): string {
  const options = optionsOf(verb).map(([name, kind]) => {
    const words = kind === 'flag' ? `--${name}` : `--${name} ${kind.value}`;
    return kind !== 'flag' && kind.needed ? words : `[${words}]`;
  });
  return [verb.name, ...verb.takes, ...options].join(' ');
}

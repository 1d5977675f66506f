/** A refusal that names the line, what was found there and what is expected. */
export interface PhotometryRefusal {
  ok: false;
  /** Counted from 1. */
  line: number;
  reason: string;
  found: string;
  expected: string;
}

/** Thrown inside the reader only; `readPhotometry` turns it into its answer. */
export class Refused extends Error {
  constructor(readonly refusal: PhotometryRefusal) {
    super(refusal.reason);
  }
}

export function refuse(line: number, reason: string, found: string, expected: string): never {
  throw new Refused({ ok: false, line, reason, found, expected });
}

/** Least and greatest that a figure may be; `say` where plain numbers would not say it. */
export interface Bounds {
  lowest: number;
  highest: number;
  say?: string;
}

export function checkBounds(line: number, what: string, value: number, bounds: Bounds): void {
  const { lowest, highest, say = `${lowest} to ${highest}` } = bounds;
  if (value >= lowest && value <= highest) return;
  refuse(line, `impossible ${what}`, String(value), say);
}

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;

/** Numbers separated by blanks, commas or line ends, each remembered with its line. */
export class NumberStream {
  private readonly words: string[] = [];
  private readonly lines: number[] = [];
  private next = 0;

  constructor(rows: readonly string[], firstLine: number) {
    rows.forEach((row, i) => {
      for (const word of row.split(/[\s,]+/)) {
        if (word === '') continue;
        this.words.push(word);
        this.lines.push(firstLine + i);
      }
    });
  }

  /** The line of the number taken last; that of the first number before any was taken. */
  get line(): number {
    return this.lines[Math.max(0, this.next - 1)] ?? 1;
  }

  take(what: string): number {
    const word = this.words[this.next];
    if (word === undefined) {
      const last = this.lines[this.lines.length - 1] ?? 1;
      refuse(last, 'the file ends too early', 'the end of the file', what);
    }
    this.next++;
    const value = Number(word);
    if (!NUMBER.test(word) || !Number.isFinite(value)) {
      refuse(this.line, 'not a number', `“${word.slice(0, 40)}”`, `a number: ${what}`);
    }
    return value;
  }

  takeWhole(what: string, lowest: number, highest: number): number {
    const value = this.take(what);
    if (!Number.isInteger(value) || value < lowest || value > highest) {
      const expected = `${what}: a whole number from ${lowest} to ${highest}`;
      refuse(this.line, `impossible ${what}`, String(value), expected);
    }
    return value;
  }

  /** A figure within what lamps can have, so that all that is reckoned from it is finite. */
  takeWithin(what: string, bounds: Bounds): number {
    const value = this.take(what);
    checkBounds(this.line, what, value, bounds);
    return value;
  }

  takeList(count: number, what: string, bounds: Bounds): Float64Array {
    const list = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      list[i] = this.takeWithin(`${what} ${i + 1} of ${count}`, bounds);
    }
    return list;
  }

  expectEnd(): void {
    const left = this.words.length - this.next;
    if (left === 0) return;
    const line = this.lines[this.next] ?? 1;
    const found = `${left} more, beginning with “${(this.words[this.next] ?? '').slice(0, 40)}”`;
    refuse(line, 'left-over values after the last candela', found, 'the end of the file');
  }
}

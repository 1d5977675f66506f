/** Where a text stops being JSON. */
export interface JsonBreak {
  /** Counted from 1. */
  line: number;
  column: number;
  found: string;
  expected: string;
}

// One token at a time: number, word or punctuation. Sticky, so that it never skips text.
const TOKEN = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?|true|false|null|[{}[\],:]/y;
const SPACE = /[ \t\r\n]*/y;
// Within a string: the next character that is not plain text, and what a backslash may lead.
const SPECIAL = /["\\\u0000-\u001f]/g;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;

type Wanted =
  | 'value'
  | 'value or ]'
  | 'name or }'
  | 'name'
  | ':'
  | ', or }'
  | ', or ]'
  | 'the end of the file';

const wantedWords: Record<Wanted, string> = {
  value: 'a value',
  'value or ]': 'a value or ]',
  'name or }': 'a name in quotes or }',
  name: 'a name in quotes',
  ':': 'a colon',
  ', or }': 'a comma or }',
  ', or ]': 'a comma or ]',
  'the end of the file': 'the end of the file',
};

/**
 * Finds the first place where a text is not JSON (RFC 8259). The runtime's own message is not
 * used: whether it names the place depends on the runtime. Returns null for sound JSON. Not
 * recursive, so that no nesting can exhaust it.
 */
export function findJsonBreak(text: string): JsonBreak | null {
  const open: ('{' | '[')[] = [];
  let wanted: Wanted = 'value';
  let at = 0;
  for (;;) {
    SPACE.lastIndex = at;
    at += SPACE.exec(text)?.[0].length ?? 0;
    if (at >= text.length && wanted === 'the end of the file') return null;
    const token = tokenAt(text, at);
    const next: Wanted | null = token === undefined ? null : after(token, wanted, open);
    if (token === undefined || next === null) return placeOf(text, at, wantedWords[wanted]);
    wanted = next;
    at += token.length;
  }
}

function tokenAt(text: string, at: number): string | undefined {
  if (text.charAt(at) === '"') {
    const end = endOfString(text, at);
    return end === null ? undefined : text.slice(at, end);
  }
  TOKEN.lastIndex = at;
  return TOKEN.exec(text)?.[0];
}

/**
 * Behind the closing quote of the string that opens at an offset; null where it is none. A loop,
 * because one expression for a whole string runs out of stack on strings of some megabytes.
 */
function endOfString(text: string, opening: number): number | null {
  let at = opening + 1;
  for (;;) {
    SPECIAL.lastIndex = at;
    const special = SPECIAL.exec(text);
    if (special?.[0] === '"') return special.index + 1;
    if (special?.[0] !== '\\') return null;
    ESCAPE.lastIndex = special.index;
    const escape = ESCAPE.exec(text)?.[0];
    if (escape === undefined) return null;
    at = special.index + escape.length;
  }
}

/** What must follow a token, or null where the token itself is out of place. */
function after(token: string, wanted: Wanted, open: ('{' | '[')[]): Wanted | null {
  const first = token.charAt(0);
  if (wanted === 'value' || wanted === 'value or ]') {
    if (first === '{') {
      open.push('{');
      return 'name or }';
    }
    if (first === '[') {
      open.push('[');
      return 'value or ]';
    }
    if (first === ']' && wanted === 'value or ]') return close(open);
    return '},:]'.includes(first) ? null : afterValue(open);
  }
  if (wanted === 'name' || wanted === 'name or }') {
    if (first === '"') return ':';
    return first === '}' && wanted === 'name or }' ? close(open) : null;
  }
  if (wanted === ':') return first === ':' ? 'value' : null;
  if (wanted === ', or }') return first === ',' ? 'name' : first === '}' ? close(open) : null;
  if (wanted === ', or ]') return first === ',' ? 'value' : first === ']' ? close(open) : null;
  return null;
}

function close(open: ('{' | '[')[]): Wanted {
  open.pop();
  return afterValue(open);
}

function afterValue(open: readonly ('{' | '[')[]): Wanted {
  const around = open.at(-1);
  if (around === undefined) return 'the end of the file';
  return around === '{' ? ', or }' : ', or ]';
}

function placeOf(text: string, offset: number, expected: string): JsonBreak {
  const before = text.slice(0, offset);
  const line = before.split('\n').length;
  const column = offset - (before.lastIndexOf('\n') + 1) + 1;
  const word = /^(?:[A-Za-z0-9_.+-]{1,20}|[^])/.exec(text.slice(offset, offset + 20))?.[0];
  return {
    line,
    column,
    found: word === undefined ? 'the end of the file' : JSON.stringify(word),
    expected,
  };
}

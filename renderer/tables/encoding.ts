/** How text is written into bytes. */
export type TextEncoding = 'utf-8' | 'utf-8-mark' | 'windows-1252' | 'utf-16';

/**
 * The signs of the bytes 80 to 9F in Windows-1252, by the index that the WHATWG Encoding Standard
 * gives for it; all other bytes are the code points of the same number.
 */
const FROM_80 =
  '\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F' +
  '\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178';

const byteOf = new Map([...FROM_80].map((sign, i) => [sign, 0x80 + i]));

/** The byte of a sign in Windows-1252; undefined: it has none. */
function windowsByte(sign: string): number | undefined {
  const code = sign.codePointAt(0) ?? 0;
  return code < 0x80 || (code >= 0xa0 && code <= 0xff) ? code : byteOf.get(sign);
}

/** The code of the sign that a byte stands for in Windows-1252. */
function windowsSign(byte: number): number {
  return byte >= 0x80 && byte <= 0x9f ? FROM_80.charCodeAt(byte - 0x80) : byte;
}

export type EncodedText =
  | { ok: true; bytes: Uint8Array<ArrayBuffer> }
  /** Signs that the encoding has not, each once. */
  | { ok: false; lacking: string[] };

/**
 * A text as bytes. UTF-16 is little-endian with its byte order mark, as spreadsheets write it. A
 * sign that Windows-1252 has not is never replaced: the text is refused, and the signs are named.
 */
export function encodeText(text: string, encoding: TextEncoding): EncodedText {
  if (encoding === 'utf-16') {
    const bytes = new Uint8Array(2 + 2 * text.length);
    const view = new DataView(bytes.buffer);
    view.setUint16(0, 0xfeff, true);
    for (let i = 0; i < text.length; i++) view.setUint16(2 + 2 * i, text.charCodeAt(i), true);
    return { ok: true, bytes };
  }
  if (encoding === 'windows-1252') {
    const lacking = new Set<string>();
    const bytes = Array.from(text, (sign) => {
      const byte = windowsByte(sign);
      if (byte === undefined) lacking.add(sign);
      return byte ?? 0;
    });
    if (lacking.size > 0) return { ok: false, lacking: [...lacking] };
    return { ok: true, bytes: Uint8Array.from(bytes) };
  }
  const marked = encoding === 'utf-8-mark' ? `\uFEFF${text}` : text;
  return { ok: true, bytes: new TextEncoder().encode(marked) };
}

/**
 * The text of bytes that are not UTF-8: UTF-16 where they begin with its byte order mark, otherwise
 * Windows-1252. Half a surrogate pair and a byte that is left over become U+FFFD.
 */
export function decodeOther(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  return windowsText(bytes);
}

/**
 * By our own index: the decoder of Node 20 leaves control characters for the bytes 80 to 9F. In
 * parts, because a call takes only so many arguments.
 */
function windowsText(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let from = 0; from < bytes.length; from += 8192) {
    const codes = Array.from(bytes.subarray(from, from + 8192), windowsSign);
    parts.push(String.fromCharCode(...codes));
  }
  return parts.join('');
}

/** Whether a file's first bytes are those of a workbook (a zip archive) rather than of a text. */
export const isWorkbook = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;

/** Bytes as a text of as many signs, in which they pass from room to room. */
export function oneSignAByte(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let i = 0; i < bytes.length; i += 8192) {
    parts.push(String.fromCharCode(...bytes.subarray(i, i + 8192)));
  }
  return parts.join('');
}

/** The bytes of such a text. */
export const bytesOfSigns = (text: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(text, (sign) => sign.charCodeAt(0));

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeOther, encodeText, type TextEncoding } from '../../renderer/tables/encoding';

function encoded(text: string, encoding: TextEncoding): Uint8Array {
  const made = encodeText(text, encoding);
  if (!made.ok) throw new Error(`${encoding} has no ${made.lacking.join(' ')}`);
  return made.bytes;
}

// The signs of the bytes 80 to 9F: index-windows-1252 of the WHATWG Encoding Standard, which agrees
// with the codec cp1252 of Python 3.12 in all bytes that the codec knows (all save 81, 8D, 8F, 90, 9D).
const from80 = [
  ...[0x20ac, 0x81, 0x201a, 0x192, 0x201e, 0x2026, 0x2020, 0x2021],
  ...[0x2c6, 0x2030, 0x160, 0x2039, 0x152, 0x8d, 0x17d, 0x8f],
  ...[0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014],
  ...[0x2dc, 0x2122, 0x161, 0x203a, 0x153, 0x9d, 0x17e, 0x178],
];
const every = Array.from({ length: 256 }, (_, byte) => byte);
const everySign = every.map((byte) => String.fromCharCode(from80[byte - 0x80] ?? byte)).join('');

const table = 'pot,note\r\n1A-A1,"Töpfchen – „schief“, 3 €, 5 µm"\r\n';

describe('text as bytes', () => {
  // The decoders of the platform, by the WHATWG Encoding Standard.
  it.each([
    ['utf-8', 'utf-8'],
    ['utf-8-mark', 'utf-8'],
    ['utf-16', 'utf-16le'],
  ] as const)('in %s is read by a decoder for %s', (encoding, decoder) => {
    const bytes = encoded(table, encoding);
    expect(new TextDecoder(decoder, { fatal: true }).decode(bytes)).toBe(table);
  });

  it('in UTF-8 and UTF-16 holds any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (any) => {
        for (const [encoding, decoder] of [
          ['utf-8', 'utf-8'],
          ['utf-16', 'utf-16le'],
        ] as const) {
          const decode = new TextDecoder(decoder, { ignoreBOM: encoding === 'utf-8' });
          expect(decode.decode(encoded(any, encoding))).toBe(any);
        }
      }),
    );
  });

  it('in Windows-1252 is by its index, and no sign is replaced by another', () => {
    expect([...encoded(everySign, 'windows-1252')]).toEqual(every);
    expect(encodeText('10 µmol m⁻² 漢 ⁻', 'windows-1252')).toEqual({
      ok: false,
      lacking: ['⁻', '漢'],
    });
  });
});

describe('bytes that are not UTF-8', () => {
  it('are Windows-1252 by its index', () => {
    expect(decodeOther(Uint8Array.from(every))).toBe(everySign);
    expect(decodeOther(new Uint8Array())).toBe('');
    expect(decodeOther(Uint8Array.of(0xff))).toBe('ÿ');
  });

  it('are UTF-16 by their mark, whatever follows, half a pair and a byte left over replaced', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), fc.boolean(), (rest, little) => {
        const bytes = Uint8Array.from([...(little ? [0xff, 0xfe] : [0xfe, 0xff]), ...rest]);
        // The units one by one, as the WHATWG Encoding Standard has them.
        const units = Array.from({ length: rest.length >> 1 }, (_, i) => {
          const [one = 0, two = 0] = rest.slice(2 * i);
          return little ? one + 256 * two : 256 * one + two;
        });
        const text = String.fromCharCode(...units);
        const left = rest.length % 2 === 1 && !/[\uD800-\uDBFF]$/.test(text) ? '\uFFFD' : '';
        expect(decodeOther(bytes)).toBe(text.replace(/\p{Cs}/gu, '\uFFFD') + left);
      }),
    );
  });

  it('are read back as written, also a text of many thousand signs', () => {
    const long = table.repeat(2000);
    for (const encoding of ['utf-16', 'windows-1252'] as const) {
      expect(decodeOther(encoded(long, encoding))).toBe(long);
    }
  });

  it('are read where they stand in a longer stretch of memory', () => {
    expect(decodeOther(Uint8Array.of(0, 0xff, 0xfe, 0xac, 0x20).subarray(1))).toBe('€');
  });
});

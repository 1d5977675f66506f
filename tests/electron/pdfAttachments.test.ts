import { inflateSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { withAttachments } from '../../electron/services/files/pdfAttachments';

/** The least PDF of the kind that Chromium writes, after ISO 32000-2, 7.5: two objects, one plain table. */
function smallPdf(catalogue = '/Type /Catalog /Pages 2 0 R /Lang (en)'): Uint8Array {
  const objects = [`1 0 obj\n<<${catalogue}>>\nendobj\n`, '2 0 obj\n<</Type /Pages>>\nendobj\n'];
  let text = '%PDF-1.4\n';
  const offsets = objects.map((object) => {
    const at = text.length;
    text += object;
    return `${String(at).padStart(10, '0')} 00000 n \n`;
  });
  const xref = `xref\n0 3\n0000000000 65535 f \n${offsets.join('')}`;
  text += `${xref}trailer\n<</Size 3\n/Root 1 0 R>>\nstartxref\n${text.length}\n%%EOF`;
  return Buffer.from(text, 'latin1');
}

const file = (name: string, text: string) => ({
  name,
  type: 'text/csv',
  text,
  about: `all – ${name}`,
});

/** Objects by number as a reader finds them: by the last table, then by those before it. */
function read(pdf: Buffer): Map<number, string> {
  const text = pdf.toString('latin1');
  const found = new Map<number, string>();
  let at = Number(/startxref\s+(\d+)\s+%%EOF\s*$/.exec(text)?.[1]);
  while (!Number.isNaN(at)) {
    expect(text.slice(at, at + 4)).toBe('xref');
    const table = text.slice(at, text.indexOf('trailer', at));
    for (const [, first, , rows = ''] of table.matchAll(
      /(\d+) (\d+)\n((?:\d{10} \d{5} [nf] \n)+)/g,
    )) {
      rows.match(/\d{10} \d{5} [nf]/g)?.forEach((row, i) => {
        const number = Number(first) + i;
        if (row.endsWith('f') || found.has(number)) return;
        const start = Number(row.slice(0, 10));
        expect(text.slice(start)).toMatch(new RegExp(`^${number} 0 obj`));
        found.set(number, text.slice(start, text.indexOf('endobj', start)));
      });
    }
    const trailer = text.slice(text.indexOf('trailer', at), text.indexOf('startxref', at));
    at = Number(/\/Prev (\d+)/.exec(trailer)?.[1]);
  }
  return found;
}

test('files are named in the catalogue in the order of their names, with all their bytes', () => {
  const plain = smallPdf();
  const pdf = Buffer.from(
    withAttachments(plain, [file('µ.csv', 'a,é\n1,2\n'), file('b.csv', 'x')]),
  );
  // Nothing that was there is touched.
  expect(pdf.subarray(0, plain.length).equals(plain)).toBe(true);
  const objects = read(pdf);
  const catalogue = objects.get(1) ?? '';
  expect(catalogue).toContain('/Pages 2 0 R /Lang (en)');
  const [, names = ''] = /\/EmbeddedFiles <<\/Names \[([^\]]*)\]/.exec(catalogue) ?? [];
  expect(names).toBe('(b.csv) 4 0 R <FEFF00B5002E006300730076> 6 0 R');
  const spec = objects.get(6) ?? '';
  expect(spec).toContain('/UF <FEFF00B5');
  const stream = objects.get(Number(/\/EF <<\/F (\d+) 0 R/.exec(spec)?.[1])) ?? '';
  expect(stream).toContain('/Subtype /text#2Fcsv');
  const length = Number(/\/Length (\d+)/.exec(stream)?.[1]);
  const from = stream.indexOf('stream\n') + 'stream\n'.length;
  const packed = Buffer.from(stream.slice(from, from + length), 'latin1');
  expect(inflateSync(packed).toString('utf8')).toBe('a,é\n1,2\n');
});

test('without files the PDF is as it was, and one of another kind is refused whole', () => {
  const plain = smallPdf();
  expect(withAttachments(plain, [])).toBe(plain);
  const one = [file('a.csv', '')];
  const named = smallPdf('/Type /Catalog /Names <<>>');
  expect(() => withAttachments(named, one)).toThrow('found no catalogue without names');
  expect(() => withAttachments(Buffer.from('%PDF-1.7 …'), one)).toThrow('found no trailer');
  const packed = Buffer.from(plain.toString().replace('xref\n0 3', 'obj1\n0 3'));
  expect(() => withAttachments(packed, one)).toThrow('no plain table of cross-references');
});

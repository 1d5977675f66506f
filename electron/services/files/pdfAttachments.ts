import { deflateSync } from 'node:zlib';
import type { Attachment } from '../../../shared-types/window/ipc';

/**
 * The PDF with files attached, by an incremental update (ISO 32000-2, 7.5.6): all its bytes stay, and
 * embedded file streams (7.11.4), their specifications (7.11.3) and a catalogue that names them
 * (7.7.4) come after them. Reads PDF as Chromium writes it: one plain cross-reference table, and a
 * catalogue without names of its own. Throws where it finds anything else.
 */
export function withAttachments(pdf: Uint8Array, files: readonly Attachment[]): Uint8Array {
  if (files.length === 0) return pdf;
  const before = Buffer.from(pdf);
  const { size, root, info, xrefAt } = trailerOf(before);
  const catalogue = catalogueOf(before, root, xrefAt);
  const objects: [number: number, body: Buffer][] = [];
  // Names in a name tree are in the order of their bytes (7.9.6).
  const named = [...files].sort((a, b) => (a.name < b.name ? -1 : 1));
  const specs = named.map((file, i) => {
    const stream = size + 2 * i;
    objects.push([stream, streamOf(file)], [stream + 1, specOf(file, stream)]);
    return { name: textOf(file.name), spec: `${stream + 1} 0 R` };
  });
  const names = specs.map(({ name, spec }) => `${name} ${spec}`).join(' ');
  const extra = `/Names <</EmbeddedFiles <</Names [${names}]>>>> /AF [${specs.map(({ spec }) => spec).join(' ')}]`;
  objects.push([root, Buffer.from(`<<${extra} ${catalogue}>>`, 'latin1')]);
  return appended(before, objects, { size: size + 2 * files.length, root, info, xrefAt });
}

interface Trailer {
  size: number;
  root: number;
  /** `/Info 1 0 R`, or nothing. */
  info: string;
  xrefAt: number;
}

function trailerOf(pdf: Buffer): Trailer {
  const tail = pdf.subarray(Math.max(0, pdf.length - 2048)).toString('latin1');
  const [, inside = ''] = /trailer\s*<<(.*?)>>\s*startxref/s.exec(tail) ?? [];
  const size = /\/Size (\d+)/.exec(inside)?.[1];
  const root = /\/Root (\d+) 0 R/.exec(inside)?.[1];
  const xrefAt = /startxref\s+(\d+)\s+%%EOF\s*$/.exec(tail)?.[1];
  if (size === undefined || root === undefined || xrefAt === undefined) {
    throw new Error('pdf: found no trailer with size and root at its end; one is expected');
  }
  const info = /\/Info \d+ 0 R/.exec(inside)?.[0] ?? '';
  return { size: Number(size), root: Number(root), info, xrefAt: Number(xrefAt) };
}

/** What stands in the catalogue's dictionary. */
function catalogueOf(pdf: Buffer, root: number, xrefAt: number): string {
  const head = /^xref\s+0 \d+\s*?\r?\n/.exec(pdf.toString('latin1', xrefAt, xrefAt + 60))?.[0];
  if (head === undefined) {
    throw new Error('pdf: found no plain table of cross-references from 0; one is expected');
  }
  // Every entry is 20 bytes: the offset in ten digits first (7.5.4).
  const entry = xrefAt + head.length + 20 * root;
  const at = Number(pdf.toString('latin1', entry, entry + 10));
  const end = pdf.indexOf('endobj', at);
  const object = pdf.toString('latin1', at, end);
  const [, inside] = /^\d+ 0 obj\s*<<(.*)>>\s*$/s.exec(object) ?? [];
  if (inside === undefined || !inside.includes('/Catalog') || /\/(Names|AF)\b/.test(inside)) {
    throw new Error('pdf: found no catalogue without names; one is expected');
  }
  return inside.trim();
}

function streamOf({ type, text }: Attachment): Buffer {
  const plain = Buffer.from(text, 'utf8');
  const packed = deflateSync(plain);
  const subtype = type.replace(/[^A-Za-z0-9]/g, (sign) => `#${hex(Buffer.from(sign))}`);
  const head = `<</Type /EmbeddedFile /Subtype /${subtype} /Filter /FlateDecode /Length ${packed.length} /Params <</Size ${plain.length}>>>>\nstream\n`;
  return Buffer.concat([Buffer.from(head, 'latin1'), packed, Buffer.from('\nendstream', 'latin1')]);
}

function specOf({ name, about }: Attachment, stream: number): Buffer {
  const file = textOf(name);
  const body = `<</Type /Filespec /F ${file} /UF ${file} /Desc ${textOf(about)} /AFRelationship /Data /EF <</F ${stream} 0 R /UF ${stream} 0 R>>>>`;
  return Buffer.from(body, 'latin1');
}

const hex = (bytes: Buffer): string => bytes.toString('hex').toUpperCase();

/** A text string (7.9.2.2): as it stands where it is plain, else in UTF-16 with its mark. */
function textOf(text: string): string {
  if (/^[\w .-]*$/.test(text)) return `(${text})`;
  return `<FEFF${hex(Buffer.from(text, 'utf16le').swap16())}>`;
}

/** The PDF with objects after its end, a table of where they are, and a trailer that leads to both. */
function appended(
  pdf: Buffer,
  objects: readonly [number: number, body: Buffer][],
  { size, root, info, xrefAt }: Trailer,
): Buffer {
  const parts = [pdf, Buffer.from('\n', 'latin1')];
  let at = pdf.length + 1;
  const entries = objects.map(([number, body]) => {
    const object = Buffer.concat([
      Buffer.from(`${number} 0 obj\n`, 'latin1'),
      body,
      Buffer.from('\nendobj\n', 'latin1'),
    ]);
    parts.push(object);
    const entry = `${number} 1\n${String(at).padStart(10, '0')} 00000 n \n`;
    at += object.length;
    return entry;
  });
  const trailer = `trailer\n<</Size ${size} /Root ${root} 0 R ${info} /Prev ${xrefAt}>>\nstartxref\n${at}\n%%EOF\n`;
  parts.push(Buffer.from(`xref\n${entries.join('')}${trailer}`, 'latin1'));
  return Buffer.concat(parts);
}

import { CRC_START, crcEnds, crcGoesOn } from './crc32';

type Bytes = Uint8Array<ArrayBuffer>;

/** When the files were last changed, as a clock on the wall tells it. */
export interface WallClock {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
}

/**
 * A zip archive of files by name (PKWARE APPNOTE 6.3.10, within ISO/IEC 21320-1): text deflated and in
 * UTF-8, bytes as they are, since pictures are packed already.
 */
export async function zipOf(
  contents: ReadonlyMap<string, string | Bytes>,
  changed: WallClock,
): Promise<Bytes> {
  const parts: Bytes[] = [];
  const directory: Bytes[] = [];
  let at = 0;
  for (const [name, content] of contents) {
    const entry = await entryOf(name, content, changed);
    const local = joined([numbers([[4, 0x04034b50], ...entry.common, [2, 0]]), entry.name]);
    parts.push(local, entry.packed);
    directory.push(
      // Version 2.0 made it; no comment, first disk, no attributes.
      numbers([[4, 0x02014b50], [2, 20], ...entry.common, [2, 0], [2, 0]]),
      numbers([
        [2, 0],
        [2, 0],
        [4, 0],
        [4, at],
      ]),
      entry.name,
    );
    at += local.length + entry.packed.length;
  }
  const central = joined(directory);
  const count = contents.size;
  const end = numbers([
    ...([
      [4, 0x06054b50],
      [2, 0],
      [2, 0],
      [2, count],
      [2, count],
    ] as const),
    ...([
      [4, central.length],
      [4, at],
      [2, 0],
    ] as const),
  ]);
  return joined([...parts, central, end]);
}

type Field = readonly [bytes: 2 | 4, value: number];

async function entryOf(name: string, content: string | Bytes, changed: WallClock) {
  const isText = typeof content === 'string';
  const bytes = isText ? new TextEncoder().encode(content) : content;
  const packed = isText ? await deflated(bytes) : bytes;
  const nameBytes = new TextEncoder().encode(name);
  const common: Field[] = [
    // Version 2.0 reads it; names are UTF-8; deflated or stored.
    ...([
      [2, 20],
      [2, 1 << 11],
      [2, isText ? 8 : 0],
    ] as const),
    [2, (changed.hour << 11) | (changed.minute << 5)],
    [2, ((changed.year - 1980) << 9) | (changed.month << 5) | changed.day],
    [4, crcEnds(crcGoesOn(CRC_START, bytes))],
    [4, packed.length],
    [4, bytes.length],
    [2, nameBytes.length],
  ];
  return { name: nameBytes, packed, common };
}

async function deflated(bytes: Bytes): Promise<Bytes> {
  const stream = new Blob([bytes]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** Numbers of so many bytes each, the lowest byte first. */
function numbers(fields: readonly Field[]): Bytes {
  const bytes = new Uint8Array(fields.reduce((sum, [length]) => sum + length, 0));
  const view = new DataView(bytes.buffer);
  let at = 0;
  for (const [length, value] of fields) {
    if (length === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += length;
  }
  return bytes;
}

function joined(parts: readonly Bytes[]): Bytes {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

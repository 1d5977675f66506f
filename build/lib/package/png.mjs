// Pictures and the files that hold several of them.
import { crc32, deflateSync } from 'node:zlib';

const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

/** A square picture of 8-bit RGBA pixels as PNG (ISO/IEC 15948). */
export function writePng(size, pixels) {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(size, 0);
  header.writeUInt32BE(size, 4);
  header.set([8, 6, 0, 0, 0], 8);
  // Each line begins with its filter: none.
  const lines = Buffer.alloc(size * (4 * size + 1));
  for (let y = 0; y < size; y++) {
    pixels.copy(lines, y * (4 * size + 1) + 1, y * 4 * size, (y + 1) * 4 * size);
  }
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(lines, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(type, data) {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, check]);
}

/** Windows: a directory of pictures, each as PNG, which it takes since Vista. */
export function writeIco(pictures) {
  const head = Buffer.alloc(6 + 16 * pictures.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(pictures.length, 4);
  let at = head.length;
  pictures.forEach(({ size, png }, i) => {
    const entry = 6 + 16 * i;
    // 256 is written as 0.
    head.set([size % 256, size % 256, 0, 0], entry);
    head.writeUInt16LE(1, entry + 4);
    head.writeUInt16LE(32, entry + 6);
    head.writeUInt32LE(png.length, entry + 8);
    head.writeUInt32LE(at, entry + 12);
    at += png.length;
  });
  return Buffer.concat([head, ...pictures.map(({ png }) => png)]);
}

/** macOS: by size, and twice as fine for the same place on the screen. */
const icnsTypes = [
  ['ic04', 16],
  ['ic11', 32],
  ['ic05', 32],
  ['ic12', 64],
  ['ic07', 128],
  ['ic13', 256],
  ['ic08', 256],
  ['ic14', 512],
  ['ic09', 512],
  ['ic10', 1024],
];

export function writeIcns(pictures) {
  const parts = icnsTypes.flatMap(([type, size]) => {
    const png = pictures.find((picture) => picture.size === size)?.png;
    // The two smallest hold raw colours there; a Mac draws them from their finer ones.
    return png && type !== 'ic04' && type !== 'ic05' ? [element(type, png)] : [];
  });
  return element('icns', Buffer.concat(parts));
}

function element(type, data) {
  const head = Buffer.alloc(8);
  head.write(type, 'latin1');
  head.writeUInt32BE(data.length + 8, 4);
  return Buffer.concat([head, data]);
}

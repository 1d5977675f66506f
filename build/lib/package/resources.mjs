// What a package holds besides the app: icons in all sizes, licences, and the signs of its files.
import { copyFileSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { out, root } from '../run.mjs';
import { thirdPartyText } from '../thirdParty.mjs';
import { markPng, markSvg } from './mark.mjs';
import { writeIcns, writeIco } from './png.mjs';

const usualSizes = [16, 24, 32, 48, 64, 128, 256, 512, 1024];
const inIco = [16, 24, 32, 48, 64, 128, 256];

/** Writes them to out/package, where electron-builder.yml looks for them. */
export function writeResources(folder = join(out, 'package'), sizes = usualSizes) {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(join(folder, 'icons'), { recursive: true });
  const pictures = sizes.map((size) => ({ size, png: markPng(size) }));
  for (const { size, png } of pictures) {
    writeFileSync(join(folder, 'icons', `${size}x${size}.png`), png);
  }
  const forWindows = pictures.filter(({ size }) => inIco.includes(size));
  writeFileSync(join(folder, 'icon.ico'), writeIco(forWindows));
  writeFileSync(join(folder, 'icon.icns'), writeIcns(pictures));
  writeFileSync(join(folder, 'icon.svg'), markSvg());
  writeFileSync(join(folder, 'THIRD-PARTY-NOTICES.txt'), thirdPartyText());
  copyFileSync(join(root, 'LICENSE'), join(folder, 'LICENSE.txt'));
}

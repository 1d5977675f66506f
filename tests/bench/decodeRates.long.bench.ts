/**
 * How often codes on labels are read again by programs that others wrote (zbar, libdmtx, jsQR, ZXing), for
 * every sheet of labels, printed at 150, 300 and 600 dots an inch, clean, blurred, turned and spotted.
 * Stored with its seed and what was done in tests/bench/decode-rates.json. `EVENRACK_SETS`: labels a
 * sheet. On Debian: apt install zbar-tools dmtx-utils poppler-utils.
 */
import { writeFileSync } from 'node:fs';
import { labelPresets } from '../../renderer/print';
import {
  conditions,
  DAMAGE,
  decodersOf,
  pictureOf,
  rasterOf,
  read,
  sheetOf,
  type Code,
} from './decodeRates';

const SEED = 'wet labels 1';
const labels = Number(process.env['EVENRACK_SETS'] ?? 12);
const codes: readonly Code[] = ['qr', 'data-matrix'];
/** By sheet and code, dots an inch, condition and program: labels that were read rightly. */
const sheets: Record<string, Record<string, Record<string, number>> | 'no room'> = {};
/** The same over all sheets, in per cent; `any`: by one program at least. */
const all = new Map<string, { right: number; of: number }>();
const wrong: string[] = [];

function count(key: string, right: number, of: number): void {
  const sum = all.get(key) ?? { right: 0, of: 0 };
  all.set(key, { right: sum.right + right, of: sum.of + of });
}

for (const preset of labelPresets) {
  for (const code of codes) {
    const name = `${preset.id}, ${code}`;
    const sheet = await sheetOf(preset, code);
    if (!sheet) {
      sheets[name] = 'no room';
      continue;
    }
    const rates: Record<string, Record<string, number>> = {};
    const places = sheet.codes.slice(0, labels);
    for (const dpi of [150, 300, 600]) {
      const raster = rasterOf(sheet, dpi);
      const ofDpi: Record<string, number> = {};
      for (const condition of conditions) {
        const pictures = places.map((at, i) =>
          pictureOf(raster, at, dpi, condition, `${SEED} ${name} ${i}`),
        );
        const byAny = pictures.map(() => false);
        for (const decoder of decodersOf(code)) {
          const texts = read(decoder, code, pictures);
          let right = 0;
          for (const [i, text] of texts.entries()) {
            if (text === sheet.texts[i]) {
              right++;
              byAny[i] = true;
            } else if (text !== null) {
              wrong.push(`${name}, ${dpi} dpi, ${condition}, ${decoder}: ${text}`);
            }
          }
          ofDpi[`${condition}, ${decoder}`] = right;
          count(`${code}, ${dpi} dpi, ${condition}, ${decoder}`, right, texts.length);
        }
        count(`${code}, ${dpi} dpi, ${condition}, any`, byAny.filter(Boolean).length, byAny.length);
      }
      rates[`${dpi} dpi`] = ofDpi;
      console.log(name, dpi, JSON.stringify(ofDpi));
    }
    sheets[name] = rates;
  }
}
const percent = Object.fromEntries(
  [...all].map(([key, { right, of }]) => [key, Math.round((1000 * right) / of) / 10]),
);
const stored = {
  seed: SEED,
  labelsASheet: labels,
  damage: DAMAGE,
  misread: wrong,
  percent,
  sheets,
};
writeFileSync('tests/bench/decode-rates.json', `${JSON.stringify(stored, null, 2)}\n`);

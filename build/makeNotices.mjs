// Writes afresh what of the package is shown by the app: whose work is in it, by the lock, and the mark.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './lib/run.mjs';
import { markSvg } from './lib/package/mark.mjs';
import { thirdParties } from './lib/thirdParty.mjs';

const app = join(root, 'renderer', 'app');
const shown = `${JSON.stringify(thirdParties(), null, 2)}\n`;
writeFileSync(join(app, 'about', 'thirdParty.json'), shown);
writeFileSync(join(app, 'mark.svg'), markSvg());

// Writes renderer/app/about/thirdParty.json afresh from the lock and the packages it names.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './lib/run.mjs';
import { thirdParties } from './lib/thirdParty.mjs';

const file = join(root, 'renderer', 'app', 'about', 'thirdParty.json');
writeFileSync(file, `${JSON.stringify(thirdParties(), null, 2)}\n`);

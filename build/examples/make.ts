// node build/make-examples.mjs: writes the example plans afresh. Same seeds, same files.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { writePlan } from '../../renderer/document/open';
import { soundExample } from './sound';
import { unreplicatedExample } from './unreplicated';

const folder = join(process.cwd(), 'renderer/app/examples');
writeFileSync(join(folder, 'basil.json'), writePlan(soundExample()));
writeFileSync(join(folder, 'two-lamps.json'), writePlan(unreplicatedExample()));

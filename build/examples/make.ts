// node build/makeExamples.mjs: writes the example plans afresh. Same seeds, same files.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { writePlan } from '../../renderer/document/open';
import { soundExample } from './sound';
import { uniformityExample } from './uniformity';
import { unreplicatedExample } from './unreplicated';
import { waterExample } from './water';

const folder = join(process.cwd(), 'renderer/app/examples');
writeFileSync(join(folder, 'basil.json'), writePlan(soundExample()));
writeFileSync(join(folder, 'two-lamps.json'), writePlan(unreplicatedExample()));
writeFileSync(join(folder, 'water.json'), writePlan(waterExample()));
const published = join(process.cwd(), 'tests/reference/uniformity/heath.radish.uniformity.csv');
writeFileSync(
  join(folder, 'radishes.json'),
  writePlan(uniformityExample(readFileSync(published, 'utf8'))),
);

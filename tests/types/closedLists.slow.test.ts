import { spawnSync } from 'node:child_process';
import {
  cpSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { papers } from '../../shared-types/paper';
import { emissionKinds, lampShapes, outputKinds } from '../../shared-types/rack';
import { positionModels } from '../../shared-types/trial/position';
import { schemes } from '../../shared-types/trial/scheme';
import { measurementKinds } from '../../shared-types/trial/measurement';

const root = join(import.meta.dirname, '../..');
const ROOMS = ['shared-types', 'renderer', 'electron'];

/** An item more on each closed list: its name, and the text that adds it. */
interface Planted {
  list: string;
  name: string;
  file: string;
  before: string;
  after: string;
}
const arrayItem = (list: string, name: string, file: string, before: string): Planted => ({
  list,
  name,
  file,
  before,
  after: before.replace('[', `['${name}', `),
});
const unionItem = (list: string, name: string, before: string): Planted => ({
  list,
  name,
  file: 'shared-types/rack.ts',
  before,
  after: `${before}\n  z.strictObject({ kind: z.literal('${name}') }),`,
});
const planted: Planted[] = [
  arrayItem('shape', 'torus', 'shared-types/rack.ts', 'lampShapes = ['),
  unionItem('emission', 'glow', "emissionSchema = z.discriminatedUnion('kind', ["),
  unionItem('output', 'radiant', "outputSchema = z.discriminatedUnion('kind', ["),
  unionItem('facing', 'curtain', "facingSchema = z.discriminatedUnion('kind', ["),
  arrayItem('measurement', 'colour', 'shared-types/trial/measurement.ts', 'measurementKinds = ['),
  arrayItem('scheme', 'spiral', 'shared-types/trial/scheme.ts', 'schemes = ['),
  arrayItem('position', 'wavy', 'shared-types/trial/position.ts', 'positionModels = ['),
  arrayItem('place', 'knotted', 'shared-types/fit.ts', 'positionModel = z.enum(['),
  arrayItem('paper', 'A5', 'shared-types/paper.ts', 'papers = ['),
];

function withPlanted(file: string, text: string): string {
  return planted
    .filter((one) => one.file === file)
    .reduce((so, one) => {
      expect(so).toContain(one.before);
      return so.replace(one.before, one.after);
    }, text);
}

/** A component that is broken itself cannot be used, either: that is no place of its own. */
const NO_COMPONENT = 'TS2786';

/** Copies the sources to a folder, with the items planted, and has them checked there. */
function complaints(folder: string): string {
  for (const room of ROOMS) cpSync(join(root, room), join(folder, room), { recursive: true });
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  for (const file of new Set(planted.map((one) => one.file))) {
    const path = join(folder, file);
    writeFileSync(path, withPlanted(file, readFileSync(path, 'utf8')));
  }
  const { compilerOptions } = JSON.parse(
    readFileSync(join(root, 'tsconfig.base.json'), 'utf8'),
  ) as { compilerOptions: object };
  const lib = ['ES2023', 'DOM', 'DOM.Iterable', 'WebWorker'];
  const types = ['node', 'vite/client'];
  writeFileSync(
    join(folder, 'tsconfig.json'),
    JSON.stringify({ compilerOptions: { ...compilerOptions, lib, types }, include: ROOMS }),
  );
  const compiler = join(root, 'node_modules', 'typescript-native', 'bin', 'tsc');
  const words = [compiler, '-p', '.', '--pretty', 'false'];
  return spawnSync(process.execPath, words, { cwd: folder, encoding: 'utf8' }).stdout;
}

/** The declaration at the head of a file's line or nearest above it. */
function holderOf(lines: readonly string[], line: number): string {
  const declared = lines
    .slice(0, line)
    .map((text) => /^(?:export )?(?:default )?(?:async )?(?:function|const) (\w+)/.exec(text)?.[1]);
  return declared.findLast((name) => name !== undefined) ?? '?';
}

/** Where the planted items break the sources: `path: function`, by list. */
function broken(): Record<string, string[]> {
  const folder = mkdtempSync(join(tmpdir(), 'evenrack-planted-'));
  const found: Record<string, string[]> = {};
  // A complaint is a line with its place; what it says further is indented.
  for (const complaint of complaints(folder).split(/\n(?=\S)/)) {
    const [, file = '', line = '', code] =
      /^(.+?)\((\d+),\d+\): error (TS\d+)/.exec(complaint) ?? [];
    // The compiler names what was planted: so each break belongs to its list.
    const list = planted.find(({ name }) => complaint.includes(name))?.list;
    // What follows from a break need not name it.
    if (list === undefined || code === NO_COMPONENT) continue;
    const lines = readFileSync(join(folder, file), 'utf8').split('\n');
    const place = `${file}: ${holderOf(lines, Number(line))}`;
    const places = (found[list] ??= []);
    if (!places.includes(place)) places.push(place);
  }
  rmSync(folder, { recursive: true });
  return found;
}

/** The sources of the program. */
function sources(): string[] {
  return ROOMS.flatMap((room) =>
    readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => join(room, name)),
  );
}

/** Every place that decides by a closed list. */
const expected: Record<string, string[]> = {
  shape: [
    'shared-types/rack.ts: lampShapeWords',
    'renderer/engine/lamps/size.ts: faceSides',
    'renderer/engine/lamps/size.ts: litSides',
    'renderer/engine/light/sources/direct.ts: sourceOf',
    'renderer/engine/light/sources/direct.ts: levelSourceOf',
  ],
  emission: [
    'shared-types/rack.ts: emissionWords',
    'renderer/engine/lamps/file.ts: fileOf',
    'renderer/engine/lamps/stamp.ts: beamOf',
    'renderer/engine/light/sources/direct.ts: exponentOf',
    'renderer/engine/light/sources/direct.ts: levelStrip',
    'renderer/panes/rack/lamps/EmissionFields.tsx: Angle',
    'renderer/panes/rack/lamps/EmissionFields.tsx: emissionOf',
  ],
  output: [
    'shared-types/rack.ts: outputWords',
    'renderer/engine/lamps/efficacy.ts: efficacyUmolJ',
    'renderer/engine/lamps/flux.ts: fluxOf',
    'renderer/engine/lamps/notices.ts: lumensTyped',
    'renderer/engine/lamps/restate.ts: outputOf',
    'renderer/engine/lamps/restate.ts: outputWith',
    'renderer/engine/lamps/shorter.ts: sharedOutput',
    'renderer/document/open/consistency/rack.ts: kindsAndLightAgree',
    'renderer/panes/rack/lamps/OutputFields.tsx: Amount',
    'renderer/panes/rack/lamps/OutputFields.tsx: Photons',
  ],
  facing: [
    'shared-types/rack.ts: facingWords',
    'renderer/document/plantedConditions.ts: standsBeside',
    'renderer/engine/light/around/facing.ts: isClosed',
    'renderer/engine/light/around/facing.ts: letsLightIn',
    'renderer/engine/light/around/surroundings.ts: surroundingsOf',
    'renderer/panes/light/SideFields.tsx: FacingFields',
    'renderer/panes/light/SideFields.tsx: startOfFacing',
  ],
  measurement: [
    'shared-types/trial/measurement.ts: measurementKindWords',
    'shared-types/trial/measurement.ts: measurementTraits',
    'shared-types/trial/measurement.ts: usualOfKind',
    'renderer/document/records/unitFactor.ts: KINDS',
    'renderer/document/records/slips/unitsMixed.ts: APART',
  ],
  scheme: [
    'shared-types/trial/scheme.ts: schemeLabels',
    'shared-types/trial/scheme.ts: schemeTraits',
    'renderer/engine/trial/words.ts: schemeWords',
  ],
  position: [
    'shared-types/trial/position.ts: positionModelLabels',
    'shared-types/trial/position.ts: positionTakes',
    'renderer/engine/findings/model/request.ts: gridModelOf',
    'renderer/engine/findings/checks.ts: plainModel',
    'renderer/engine/findings/model/fitModel.ts: unitFits',
    'renderer/engine/findings/position/slopes.ts: covariateSlopesOf',
    'renderer/engine/findings/model/unitMeans.ts: looksBetweenUnits',
    'renderer/engine/findings/statements/wording.ts: HEADS',
    'renderer/engine/findings/statements/wording.ts: POSITION_TERMS',
  ],
  place: [
    'shared-types/fit.ts: placeTraits',
    'renderer/engine/stats/design/position.ts: positionPart',
    'renderer/engine/stats/fit/covariance/absorbed.ts: residualCovariance',
    'renderer/engine/stats/fit/mixedModel.ts: covarianceFits',
  ],
  paper: ['renderer/print/paper.ts: paperMm'],
};

it('nothing is decided by comparing with one item of the lists whose items have traits', () => {
  const traited = [...schemes, ...measurementKinds, ...lampShapes, ...papers];
  // Names of position models mean other things elsewhere; to leave place out is no model of it.
  const models = positionModels
    .filter((model) => model !== 'none')
    .map((m) => m.replace('+', '\\+'));
  const light = [...emissionKinds, ...outputKinds];
  const compares = new RegExp(
    `[!=]== '(${traited.join('|')})'|(model|[pP]osition) [!=]== '(${models.join('|')})'|` +
      `(emission|output)(\\.kind|) [!=]== '(${light.join('|')})'`,
  );
  expect("if (scheme === 'latin-square') {").toMatch(compares);
  expect("if (request.position?.model === 'rows+columns') {").toMatch(compares);
  expect("if (kind.emission.kind !== 'file') {").toMatch(compares);
  expect(sources().filter((file) => compares.test(readFileSync(join(root, file), 'utf8')))).toEqual(
    [],
  );
});

it('an item more on a closed list breaks the build wherever that list decides', () => {
  const found = broken();
  const sorted = (lists: Record<string, string[]>) =>
    Object.fromEntries(Object.entries(lists).map(([list, places]) => [list, [...places].sort()]));
  expect(sorted(found)).toEqual(sorted(expected));
}, 120_000);

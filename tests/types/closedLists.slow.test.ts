import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';
import { positionModel } from '../../shared-types/fit';
import { papers } from '../../shared-types/paper';
import { emissionKinds, facingKinds, lampShapes, outputKinds } from '../../shared-types/rack';
import { measurementKinds, positionModels, schemes } from '../../shared-types/trial';

const root = join(import.meta.dirname, '../..');

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
const TRIAL = 'shared-types/trial.ts';
const planted: Planted[] = [
  arrayItem('shape', 'torus', 'shared-types/rack.ts', 'lampShapes = ['),
  unionItem('emission', 'glow', "emissionSchema = z.discriminatedUnion('kind', ["),
  unionItem('output', 'radiant', "outputSchema = z.discriminatedUnion('kind', ["),
  unionItem('facing', 'curtain', "facingSchema = z.discriminatedUnion('kind', ["),
  arrayItem('measurement', 'colour', TRIAL, 'measurementKinds = ['),
  arrayItem('scheme', 'spiral', TRIAL, 'schemes = ['),
  arrayItem('position', 'wavy', TRIAL, 'positionModels = ['),
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
const NO_COMPONENT = 2786;

/** Where the planted items break these files: `path: function`, by list. */
function broken(files: readonly string[]): Record<string, string[]> {
  const options: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    lib: ['lib.es2023.d.ts', 'lib.dom.d.ts', 'lib.dom.iterable.d.ts'],
    jsx: ts.JsxEmit.ReactJSX,
    strict: true,
    noUncheckedIndexedAccess: true,
    exactOptionalPropertyTypes: true,
    skipLibCheck: true,
    noEmit: true,
    types: [],
  };
  const host = ts.createCompilerHost(options);
  const { getSourceFile } = host;
  host.getSourceFile = (name, ...rest) =>
    planted.some(({ file }) => file === relative(root, name))
      ? ts.createSourceFile(
          name,
          withPlanted(relative(root, name), readFileSync(name, 'utf8')),
          ts.ScriptTarget.ES2023,
          true,
        )
      : getSourceFile(name, ...rest);
  const program = ts.createProgram(
    files.map((file) => join(root, file)),
    options,
    host,
  );
  const found: Record<string, string[]> = {};
  for (const file of files) {
    const source = program.getSourceFile(join(root, file));
    for (const { start = 0, messageText, code } of program.getSemanticDiagnostics(source)) {
      if (code === NO_COMPONENT) continue;
      const holder = source?.statements.find((s) => s.pos <= start && s.end > start);
      const place = /(?:function|const) (\w+)/.exec(holder?.getText(source) ?? '')?.[1] ?? '?';
      const message = ts.flattenDiagnosticMessageText(messageText, ' ');
      // The compiler names what was planted: so each break belongs to its list.
      const list = planted.find(({ name }) => message.includes(name))?.list;
      // What follows from a break need not name it.
      if (list === undefined) continue;
      const places = (found[list] ??= []);
      if (!places.includes(`${file}: ${place}`)) places.push(`${file}: ${place}`);
    }
  }
  return found;
}

/** The items of each list. What decides by a list names all of them: the compiler sees to that. */
const items: Record<string, readonly string[]> = {
  shape: lampShapes,
  emission: emissionKinds,
  output: outputKinds,
  facing: facingKinds,
  measurement: measurementKinds,
  scheme: schemes,
  position: positionModels,
  place: positionModel.options,
  paper: papers,
};

/** The sources of the program. */
function sources(): string[] {
  return ['shared-types', 'renderer', 'electron'].flatMap((room) =>
    readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => join(room, name)),
  );
}

/** Those in which a decision by one of the lists can stand. */
function mayDecide(): string[] {
  return sources().filter((file) => {
    const text = readFileSync(join(root, file), 'utf8');
    const names = (item: string) =>
      new RegExp(`(?<![\\w-])${item.replace('+', '\\+')}(?![\\w-])`).test(text);
    return Object.values(items).some((list) => list.every(names));
  });
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
    'shared-types/trial.ts: measurementKindWords',
    'shared-types/trial.ts: measurementTraits',
    'shared-types/trial.ts: usualOfKind',
    'renderer/document/records/unitFactor.ts: KINDS',
    'renderer/document/records/slips/unitsMixed.ts: APART',
  ],
  scheme: [
    'shared-types/trial.ts: schemeLabels',
    'shared-types/trial.ts: schemeTraits',
    'renderer/engine/trial/words.ts: schemeWords',
  ],
  position: [
    'shared-types/trial.ts: positionModelLabels',
    'shared-types/trial.ts: positionTakes',
    'renderer/engine/findings/request.ts: gridModelOf',
    'renderer/engine/findings/checks.ts: plainModel',
    'renderer/engine/findings/fitModel.ts: unitFits',
    'renderer/engine/findings/unitMeans.ts: looksBetweenUnits',
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
  const found = broken(mayDecide());
  const sorted = (lists: Record<string, string[]>) =>
    Object.fromEntries(Object.entries(lists).map(([list, places]) => [list, [...places].sort()]));
  expect(sorted(found)).toEqual(sorted(expected));
}, 120_000);

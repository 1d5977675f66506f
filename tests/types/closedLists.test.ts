import { readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
const RACK = 'shared-types/rack.ts';

/** Where a change of the lists in shared-types/rack.ts breaks these files: `path: function`. */
function brokenBy(change: (text: string) => string, files: readonly string[]): string[] {
  const options: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    lib: ['lib.es2023.d.ts'],
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
    relative(root, name) === RACK
      ? ts.createSourceFile(name, change(readFileSync(name, 'utf8')), ts.ScriptTarget.ES2023, true)
      : getSourceFile(name, ...rest);
  const program = ts.createProgram(
    files.map((file) => join(root, file)),
    options,
    host,
  );
  const found = files.flatMap((file) => {
    const source = program.getSourceFile(join(root, file));
    return program.getSemanticDiagnostics(source).map(({ start = 0 }) => {
      const holder = source?.statements.find((s) => s.pos <= start && s.end > start);
      const text = holder?.getText(source) ?? '';
      const name = /(?:function|const) (\w+)/.exec(text)?.[1] ?? '?';
      return `${file}: ${name}`;
    });
  });
  return [...new Set(found)].sort();
}

const files = [RACK, 'renderer/engine/lamps/size.ts', 'renderer/engine/light/direct.ts'];

it('a lamp shape more breaks the build wherever a shape decides', () => {
  const before = "lampShapes = ['strip', 'panel', 'spot']";
  const added = brokenBy((text) => {
    expect(text).toContain(before);
    return text.replace(before, "lampShapes = ['strip', 'panel', 'spot', 'ring']");
  }, files);
  expect(added).toEqual([
    'renderer/engine/lamps/size.ts: litSides',
    'renderer/engine/light/direct.ts: levelSourceOf',
    'renderer/engine/light/direct.ts: sourceOf',
    'shared-types/rack.ts: lampShapeWords',
  ]);
});

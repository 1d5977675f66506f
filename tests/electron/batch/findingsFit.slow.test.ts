import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it, vi } from 'vitest';
import { findingsVerb } from '../../../electron/batch/verbs/findings';
import { fitVerb } from '../../../electron/batch/verbs/fit';
import { readArguments } from '../../../electron/batch/verb';
import type { FitRequest, FitResult } from '../../../shared-types/fit';
import { tempFolder } from '../tempFolder';

// The findings must be what a fit of the exported table gives for the same request.

const plan = fileURLToPath(new URL('../../../renderer/app/examples/basil.json', import.meta.url));

type Fitted = Pick<FitResult, 'terms' | 'means' | 'comparisons' | 'contrasts' | 'checks'>;
interface Found {
  positions: (Fitted & { model: string; request: FitRequest })[];
  files: { data: string };
}

/**
 * What the request of a model covers. Under edge, slopes and light, factors on whole trays are judged
 * in a fit of their own; under a smooth surface and likeness of neighbours, factors on pots are judged
 * by the layouts of the draw, which no table holds.
 */
function ofTheRequest({ model, terms }: Found['positions'][number]) {
  const drawn = model === 'smooth' || model === 'ar1';
  const elsewhere = terms
    .filter(({ stratum, randomised }) =>
      ['edge', 'light', 'linear'].includes(model) ? stratum !== 'residual' : Boolean(randomised),
    )
    .map(({ term }) => term);
  const whole = (of: readonly string[]) => !drawn && of.every((name) => !elsewhere.includes(name));
  return (fitted: Fitted) => ({
    terms: fitted.terms
      .filter(({ term }) => !elsewhere.includes(term))
      .map(({ term, df, statistic, p }) => ({ term, df, statistic, p })),
    means: fitted.means.filter(({ of }) => whole(of)),
    comparisons: fitted.comparisons.filter(({ of }) => whole(of)),
    contrasts: drawn ? [] : fitted.contrasts,
    checks: fitted.checks,
  });
}

const models = ['none', 'edge', 'light', 'linear', 'rows+columns', 'smooth', 'ar1'];

it('gives the same figures with every position model when the exported table is fitted', async () => {
  // A browser that prints the report's PDF would take most of the time.
  vi.stubEnv('EVENRACK_BROWSER', '/nowhere/browser');
  const folder = await tempFolder();
  const out = join(folder, 'report');
  const found = (await findingsVerb.run(
    readArguments(findingsVerb, [plan, '--report', out]),
  )) as Found;
  const lines = (await readFile(found.files.data, 'utf8')).trim().split('\r\n');
  expect(lines).toHaveLength(217);
  expect(found.positions.map(({ model }) => model)).toEqual(models);
  for (const position of found.positions) {
    const request = join(folder, 'request.json');
    await writeFile(request, JSON.stringify(position.request));
    const args = readArguments(fitVerb, [request, '--table', found.files.data]);
    const again = (await fitVerb.run(args)) as Fitted;
    const ofPots = ofTheRequest(position);
    for (const part of ['terms', 'means', 'comparisons', 'contrasts', 'checks'] as const) {
      expect(ofPots(again)[part], `${position.model} ${part}`).toEqual(ofPots(position)[part]);
    }
  }
}, 60_000);

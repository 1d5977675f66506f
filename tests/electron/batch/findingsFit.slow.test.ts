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
  positions: (Fitted & {
    model: string;
    request: FitRequest;
    unitRequests: { unit: string; request: FitRequest }[];
  })[];
  files: { data: string };
}

/**
 * Under a smooth surface and neighbouring pots alike, factors on pots are judged by the layouts of the
 * draw, which no table holds; all else is what a request says, the model's own or that of a unit.
 */
function ofTheRequests({ model, terms, unitRequests }: Found['positions'][number]) {
  const drawn = model === 'smooth' || model === 'ar1';
  const byLayouts = terms.filter(({ randomised }) => Boolean(randomised)).map(({ term }) => term);
  const stratumOf = new Map(terms.map(({ term, stratum }) => [term, stratum ?? 'residual']));
  const requested = unitRequests.map(({ unit }) => unit);
  /** Which fit tells of some terms: that of the first unit on which one of them falls, or the own. */
  const teller = (names: readonly string[]): string =>
    requested.find((unit) => names.some((name) => stratumOf.get(name) === unit)) ?? 'own';
  return (fitted: Fitted, told: string) => ({
    terms: fitted.terms
      .filter(({ term }) => !byLayouts.includes(term) && teller([term]) === told)
      .map(({ term, df, statistic, p }) => ({ term, df, statistic, p })),
    means: fitted.means.filter(({ of }) => !drawn && teller(of) === told),
    comparisons: fitted.comparisons.filter(({ of }) => !drawn && teller(of) === told),
    contrasts: fitted.contrasts.filter(({ of }) => !drawn && teller([of]) === told),
    checks: told === 'own' ? fitted.checks : {},
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
  expect(
    found.positions.map(({ unitRequests }) => unitRequests.map(({ unit }) => unit).join()),
  ).toEqual(['', 'tray', 'tray', 'tray', '', '', '']);
  for (const position of found.positions) {
    const ofRequest = ofTheRequests(position);
    const tellers = [{ unit: 'own', request: position.request }, ...position.unitRequests];
    for (const { unit, request: asked } of tellers) {
      const request = join(folder, 'request.json');
      await writeFile(request, JSON.stringify(asked));
      const args = readArguments(fitVerb, [request, '--table', found.files.data]);
      const again = (await fitVerb.run(args)) as Fitted;
      const wanted = ofRequest(position, unit);
      for (const part of ['terms', 'means', 'comparisons', 'contrasts', 'checks'] as const) {
        const name = `${position.model}, ${unit}: ${part}`;
        expect(ofRequest(again, unit)[part], name).toEqual(wanted[part]);
      }
      if (unit !== 'own') expect(wanted.terms.map(({ term }) => term)).toContain('feed');
    }
  }
}, 60_000);

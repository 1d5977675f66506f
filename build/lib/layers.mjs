import { createRequire } from 'node:module';
import { join } from 'node:path';
import { cruise } from 'dependency-cruiser';
import extractTsConfig from 'dependency-cruiser/config-utl/extract-ts-config';
import { root } from './run.mjs';

const config = createRequire(import.meta.url)(join(root, '.dependency-cruiser.cjs'));

/**
 * Checks the layers of the sources under `folder` against .dependency-cruiser.cjs. Called as a
 * library, because the command line of this release refuses Node 20 while the rest runs on it.
 * @param {string} folder
 * @returns {Promise<{ rule: string, comment: string, from: string, to: string }[]>}
 */
export async function findViolations(folder) {
  const tsConfig = extractTsConfig(join(root, config.options.tsConfig.fileName));
  const { output } = await cruise(
    ['shared-types', 'renderer', 'electron'],
    { ...config.options, baseDir: folder, ruleSet: config, validate: true },
    config.options.enhancedResolveOptions,
    { tsConfig },
  );
  return output.summary.violations.map(({ rule, from, to }) => ({
    rule: rule.name,
    comment: config.forbidden.find((candidate) => candidate.name === rule.name)?.comment ?? '',
    from,
    to,
  }));
}

// The layers of the sources, as .dependency-cruiser.cjs states them. Exit 1 on any violation.
import { findViolations } from './lib/layers.mjs';
import { root } from './lib/run.mjs';

for (const { rule, comment, from, to } of await findViolations(root)) {
  console.error(`${from} → ${to}\n    ${rule}: ${comment}`);
  process.exitCode = 1;
}

import { mkdtemp, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { killLoop } from '../electron/killLoop/loop';

// How much a kill costs: a window over the real services, killed at random moments while it edits
// and saves. KILLS=60 SEED=text npm run bench -- kill
const kills = Number(process.env['KILLS'] ?? 30);
const seed = process.env['SEED'] ?? 'long';
const folder = await realpath(await mkdtemp(join(tmpdir(), 'evenrack-kill-')));
try {
  const found = await killLoop(process.cwd(), folder, { kills, seed, longestMs: 4000 });
  console.log(JSON.stringify({ seed, ...found }, null, 2));
  if (found.stale > 0 || found.longestLossMs > 2000 + found.machineMs) process.exitCode = 1;
} finally {
  await rm(folder, { recursive: true, force: true });
}

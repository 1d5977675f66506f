import { spawn } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { bundleForNode } from '../../../build/lib/bundle.mjs';
import { sortCopies } from '../../../renderer/app/files/recoveries';
import { readPlan } from '../../../renderer/document/open';
import { hostOn } from './host';

export interface KillLoop {
  readonly kills: number;
  readonly edits: number;
  readonly saves: number;
  /** How long before its kill the oldest edit was made that none holds, neither file nor copy, ms. */
  readonly longestLossMs: number;
  /** How much of that the machine was at fault for: a stalled process, a copy over 0.5 s on its way. */
  readonly machineMs: number;
  /** Copies that were offered without an edit that their file had not. */
  readonly stale: number;
  readonly troubles: readonly string[];
}

/**
 * Lets a window work and kills it, again and again, at moments drawn from the seed: at most
 * `longestMs` after it was ready. Looks after each kill at what the next start would offer.
 */
export async function killLoop(
  root: string,
  folder: string,
  { kills, seed, longestMs }: { kills: number; seed: string; longestMs: number },
): Promise<KillLoop> {
  const program = join(folder, 'window.mjs');
  await bundleForNode(join(root, 'tests/electron/killLoop/window.ts'), program);
  const random = seedrandom(seed);
  let result: KillLoop = {
    kills: 0,
    edits: 0,
    saves: 0,
    longestLossMs: 0,
    machineMs: 0,
    stale: 0,
    troubles: [],
  };
  let seenLines = 0;
  for (let round = 0; round < kills; round++) {
    const killedAt = await workAndKill(program, folder, `${seed} ${round}`, random() * longestMs);
    const lines = (await readFile(join(folder, 'log'), 'utf8')).split('\n').slice(seenLines, -1);
    seenLines += lines.length;
    result = add(result, lines, killedAt, await offered(folder));
  }
  return result;
}

async function workAndKill(
  program: string,
  folder: string,
  seed: string,
  afterMs: number,
): Promise<number> {
  const child = spawn(process.execPath, [program, folder, seed], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const gone = new Promise((resolve) => child.on('close', resolve));
  await new Promise((resolve) => child.stdout.once('data', resolve));
  await new Promise((resolve) => setTimeout(resolve, afterMs));
  const killedAt = Date.now();
  child.kill('SIGKILL');
  await gone;
  return killedAt;
}

/** The last edit in the file, and in each copy that the next start would offer. */
async function offered(folder: string): Promise<{ file: number; copies: number[] }> {
  const path = join(folder, 'trial.evenrack');
  const file = readPlan(await readFile(path, 'utf8'));
  if (!file.ok) throw new Error(`the file is broken: ${file.problem.kind}`);
  const { usable, unreadable } = sortCopies(await hostOn(folder, path).recoveries());
  if (unreadable.length > 0) throw new Error(`a copy is broken: ${unreadable.join(' ')}`);
  return {
    file: Number(file.plan.title),
    copies: usable.map(({ plan }) => Number(plan.title)),
  };
}

function add(
  sum: KillLoop,
  lines: readonly string[],
  killedAt: number,
  { file, copies }: { file: number; copies: readonly number[] },
): KillLoop {
  const best = Math.max(file, ...copies);
  const edits = lines.flatMap((line) => {
    const [, n, at] = /^edit (\d+) (\d+)$/.exec(line) ?? [];
    return n !== undefined && at !== undefined ? [{ n: Number(n), at: Number(at) }] : [];
  });
  const longest = (word: string): number =>
    Math.max(0, ...lines.flatMap((l) => (l.startsWith(word) ? [Number(l.split(' ')[1])] : [])));
  const lossMs = Math.max(0, ...edits.filter(({ n }) => n > best).map(({ at }) => killedAt - at));
  const machineMs = longest('stall') + Math.max(0, longest('kept') - 500);
  return {
    kills: sum.kills + 1,
    edits: sum.edits + edits.length,
    saves: sum.saves + lines.filter((line) => line === 'saved').length,
    ...(lossMs > sum.longestLossMs
      ? { longestLossMs: lossMs, machineMs }
      : { longestLossMs: sum.longestLossMs, machineMs: sum.machineMs }),
    stale: sum.stale + copies.filter((n) => n <= file).length,
    troubles: [...sum.troubles, ...lines.filter((line) => line.startsWith('trouble'))],
  };
}

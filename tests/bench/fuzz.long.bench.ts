import { spawn } from 'node:child_process';
import { writeSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { Fuzz } from '../fuzz/cases';

// 10,000 mutated plans, tables, lamp files and requests, with harvests analysed, rehearsed and
// printed: no crash, nothing over 5 s of processor time, nothing infinite. CASES=500 SEED=text npm run bench -- fuzz
const cases = Number(process.env['CASES'] ?? 10_000);
const seed = process.env['SEED'] ?? 'long';
/** A case that says nothing for this long hangs. */
const silentMs = 60_000;
const [, file = '', from] = process.argv;

if (from === undefined) await watch();
else await work(Number(from));

/** Runs the cases in a child that can be ended where one of them never returns. */
async function watch(): Promise<void> {
  const count: Record<string, number> = {};
  let faults = 0;
  const tell = (fault: string): void => {
    faults += 1;
    console.log(fault);
  };
  let next = 0;
  while (next < cases) {
    const child = spawn(process.execPath, [file, String(next)], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let timer = setTimeout(() => undefined, 0);
    const wait = (): void => {
      clearTimeout(timer);
      timer = setTimeout(() => child.kill('SIGKILL'), silentMs);
    };
    wait();
    const gone = new Promise((resolve) => child.on('close', resolve));
    for await (const line of createInterface(child.stdout)) {
      wait();
      const [i = '', kind = '', what = ''] = JSON.parse(line) as string[];
      next = Number(i) + 1;
      count[kind] = (count[kind] ?? 0) + 1;
      if (what !== '') tell(`case ${i}: ${kind}: ${what}`);
      if (next % 500 === 0) console.log(JSON.stringify({ seed, done: next, ...count }));
    }
    clearTimeout(timer);
    await gone;
    if (next < cases && child.signalCode === 'SIGKILL') {
      tell(`case ${next}: hangs`);
      next += 1;
    }
  }
  console.log(JSON.stringify({ seed, cases, ...count }));
  if (faults > 0) process.exitCode = 1;
}

async function work(first: number): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'evenrack-fuzz-'));
  const fuzz = new Fuzz(process.cwd(), folder, seed);
  for (let i = first; i < cases; i++) {
    const ending = await fuzz.run(i);
    writeSync(
      1,
      `${JSON.stringify([String(i), ending.kind, 'what' in ending ? ending.what : ''])}\n`,
    );
  }
  await rm(folder, { recursive: true });
}

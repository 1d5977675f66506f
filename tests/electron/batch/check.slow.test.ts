import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runBatch } from '../../../electron/batch/run';
import { checkVerb } from '../../../electron/batch/verbs/check';
import { readPlan, writePlan } from '../../../renderer/document/open';
import type { Notice } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { floodPairs } from '../../engine/flood/pairs';
import { rackPairs } from '../../engine/geometry/pairs';

const folder = mkdtempSync(join(tmpdir(), 'check-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What `check` tells of the rack and the water of a plan that went through a file. */
async function check(plan: Plan): Promise<{ ok: boolean; notices: Notice[] }> {
  const path = join(folder, 'plan.json');
  writeFileSync(path, writePlan(plan));
  let [out, err] = ['', ''];
  const code = await runBatch(['check', path], [checkVerb], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
  });
  expect([code, err]).toEqual([0, '']);
  return JSON.parse(out) as { ok: boolean; notices: Notice[] };
}

const ofRackAndWater = ({ notices }: { notices: Notice[] }) =>
  notices.filter(({ stage }) => stage === 'rack' || stage === 'flood');

/** Words a sentence that are read in one go, and a few for figures with their units. */
const LONGEST = 28;
const longestSentence = (text: string): number =>
  Math.max(...text.split(/(?<=[.?!])\s+(?=[A-Z0-9])/).map((one) => one.split(/\s+/).length));

describe('check tells rack and water', () => {
  it.each([...rackPairs, ...floodPairs])('$kind: $why', async ({ kind, flawed, sound }) => {
    const found = await check(flawed);
    const notice = found.notices.find((n) => n.kind === kind);
    expect(notice).toMatchObject({ kind, text: expect.stringMatching(/\w/) as string });
    expect(notice?.about.length).toBeGreaterThan(0);
    expect(notice?.remedy).toMatch(/\w/);
    for (const said of [notice?.text ?? '', notice?.remedy ?? '']) {
      expect(longestSentence(said), said).toBeLessThanOrEqual(LONGEST);
    }
    if (notice?.severity === 'stop') expect(found.ok).toBe(false);
    expect(ofRackAndWater(await check(sound))).toEqual([]);
  });

  it('nothing on the demo', async () => {
    const file = new URL('../../../renderer/app/examples/basil.json', import.meta.url);
    const read = readPlan(readFileSync(file, 'utf8'));
    if (!read.ok) throw new Error('the demo does not open');
    expect(ofRackAndWater(await check(read.plan))).toEqual([]);
  });
});

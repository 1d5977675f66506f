import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readArguments } from '../../../../electron/batch/verb';
import { checkVerb } from '../../../../electron/batch/verbs/check';
import { writePlan } from '../../../../renderer/document/open';
import { noticeKinds, type Notice, type NoticeKind } from '../../../../shared-types/notice';
import type { Plan } from '../../../../shared-types/plan';
import { example, undrawn } from '../../../builders/examplePlans';
import { tempFolder } from '../../tempFolder';
import { layoutPairs } from './layoutPairs';
import { trialPairs } from './trialPairs';

/** What the shell's `check` says of a plan. */
async function check(plan: Plan): Promise<{ ok: boolean; notices: Notice[] }> {
  const path = join(await tempFolder(), 'plan.json');
  await writeFile(path, writePlan(plan));
  return checkVerb.run(readArguments(checkVerb, [path])) as Promise<{
    ok: boolean;
    notices: Notice[];
  }>;
}

const OURS: readonly string[] = [...noticeKinds.trial, ...noticeKinds.layout];

const rows = Object.entries({ ...trialPairs, ...layoutPairs }).flatMap(([kind, list]) =>
  list.map((one) => ({ kind: kind as NoticeKind, ...one })),
);

describe('check from the shell', () => {
  it.each(rows)('tells $kind: $what', async ({ kind, flawed, sound, says }) => {
    const { ok, notices } = await check(flawed());
    const found = notices.filter((notice) => notice.kind === kind);
    expect(found.map((notice) => notice.text)).toEqual([expect.stringMatching(says)]);
    for (const notice of found) {
      expect(notice.remedy).toMatch(/^[A-Z].*\.$/);
      expect(notice.about.length).toBeGreaterThan(0);
      if (notice.severity === 'stop') expect(ok).toBe(false);
    }
    const narrowly = await check(sound());
    expect(narrowly.notices.map((notice) => notice.kind)).not.toContain(kind);
  });

  it('says nothing of trial and layout about the sound example', async () => {
    const kinds = (await check(example('basil'))).notices.map((notice) => notice.kind);
    expect(kinds.filter((kind) => OURS.includes(kind))).toEqual([]);
    const before = (await check(undrawn('basil'))).notices.map((notice) => notice.kind);
    expect(before.filter((kind) => OURS.includes(kind))).toEqual(['layout-missing']);
  });
});

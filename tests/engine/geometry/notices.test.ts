import { describe, expect, it } from 'vitest';
import { rackNotices as standing } from '../../../renderer/engine/geometry';
import { hangingNotices } from '../../../renderer/engine/lamps';
import { noticeKinds } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { rackPairs, soundRack } from './pairs';

const rackNotices = (rack: Plan['rack'], system: Plan['display']['lengths']) => [
  ...standing(rack, system),
  ...hangingNotices(rack, system),
];
const kinds = (plan: Plan) => rackNotices(plan.rack, 'metric').map((notice) => notice.kind);

describe('notices of the rack', () => {
  it.each(rackPairs)('$kind: $why', ({ kind, flawed, sound }) => {
    expect(kinds(flawed)).toEqual([kind]);
    expect(kinds(sound)).toEqual([]);
  });

  it('says nothing about a sound rack, and knows every kind of the contract', () => {
    expect(kinds(soundRack)).toEqual([]);
    const shown = new Set(rackPairs.map(({ kind }) => kind));
    expect([...shown].sort()).toEqual([...noticeKinds.rack].sort());
  });

  it('speaks in inches where the plan does', () => {
    for (const { flawed } of rackPairs) {
      for (const { text } of rackNotices(flawed.rack, 'imperial')) {
        expect(text).not.toMatch(/\d mm/);
      }
    }
    const [outside] = rackPairs;
    const [notice] = rackNotices(outside?.flawed.rack ?? soundRack.rack, 'imperial');
    // 1200.1 mm and 1200 mm by 600 mm, at 25.4 mm an inch.
    expect(notice?.text).toContain('the shelf is 47.24 in by 23.62 in');
    expect(notice?.text).toContain('27.56 in to 47.25 in across');
  });
});

import { describe, expect, it } from 'vitest';
import { floodNotices } from '../../../renderer/engine/flood';
import { noticeKinds, type NoticeKind } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import { emptyPlan, newFlood } from '../../../renderer/document/new';
import { floodPairs, siphon } from './pairs';
import { aFlood, aPlan, aTray } from './plans';

const kinds = (plan: Plan): NoticeKind[] => floodNotices(plan).map((notice) => notice.kind);

describe('notices of the flood stage', () => {
  it.each(floodPairs)('$kind: $why', ({ kind, flawed, sound }) => {
    expect(kinds(flawed)).toContain(kind);
    expect(kinds(sound)).toEqual([]);
  });

  it('knows every kind that the contract lists for this stage', () => {
    const shown = new Set(floodPairs.map(({ kind }) => kind));
    expect([...shown].sort()).toEqual([...noticeKinds.flood].sort());
  });

  it('says nothing about a plan without flooding, a usual one, and one just begun', () => {
    expect(floodNotices(emptyPlan('nothing'))).toEqual([]);
    expect(kinds(aPlan(aTray(), aFlood()))).toEqual([]);
    const plan = aPlan(aTray(), aFlood());
    expect(floodNotices({ ...plan, flood: newFlood('z30', plan.rack) })).toEqual([]);
  });

  it('asks for the trip flow of a siphon where it is not stated, as a note', () => {
    const zone = siphon({ tripFlowLMin: null });
    const notices = floodNotices(aPlan(aTray(), aFlood({}, zone)));
    expect(notices.map((n) => [n.kind, n.severity])).toEqual([['siphon-may-not-start', 'note']]);
  });

  it('carries figures and a remedy in every notice, and no word of anything being safe', () => {
    for (const { flawed } of floodPairs) {
      for (const notice of floodNotices(flawed)) {
        expect(notice.text).toMatch(/\d/);
        expect(notice.text).not.toMatch(/NaN|Infinity|undefined|null/);
        expect(notice.remedy.length).toBeGreaterThan(10);
        expect(`${notice.text} ${notice.remedy}`).not.toMatch(/\bsafe/i);
        expect(notice.stage).toBe('flood');
      }
    }
  });

  it('speaks in the units of the plan, and in none of the other', () => {
    for (const { flawed } of floodPairs) {
      const imperial = { ...flawed, display: { lengths: 'imperial' as const } };
      const metric = floodNotices(flawed);
      floodNotices(imperial).forEach((notice, i) => {
        const words = `${notice.text} ${notice.remedy}`;
        expect(words).not.toMatch(/\d (mm|L|L\/min|kg|m)\b/);
        expect(`${metric[i]?.text} ${metric[i]?.remedy}`).not.toMatch(
          /\d (in|gal|gal\/min|lb|ft)\b/,
        );
        expect({ ...notice, text: '', remedy: '' }).toEqual({ ...metric[i], text: '', remedy: '' });
      });
    }
  });
});

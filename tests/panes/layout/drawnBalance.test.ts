import { describe, expect, it } from 'vitest';
import { sayStage } from '../../../renderer/panes/layout/DrawnBalance';

const stage = {
  name: 's1',
  unit: 'pot',
  candidates: 8,
  acceptanceShare: 0.1,
  threshold: 12.7439,
  distance: 12.2964,
} as const;

describe('what a stage of the draw says', () => {
  it('is imbalance, threshold, share and draws', () => {
    expect(sayStage(stage, 'Shelf 1')).toBe(
      'Shelf 1: fairer than 90 % of all shuffles; 8 draws tried. Imbalance 12.3; the best 10 % stay below 12.7.',
    );
    expect(sayStage({ ...stage, acceptanceShare: 0.001, candidates: 1 }, 'The rack')).toContain(
      'fairer than 99.9 % of all shuffles; 1 draw tried.',
    );
  });

  it('names no threshold where nothing could be balanced', () => {
    const free = { ...stage, threshold: null, distance: null, acceptanceShare: 1, candidates: 1 };
    expect(sayStage(free, 'Shelf 2')).toBe(
      'Shelf 2: any draw would do, for there is nothing to balance; 1 draw tried.',
    );
  });
});

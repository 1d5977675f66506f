import { describe, expect, it } from 'vitest';
import { OLDEST_VERSION, migrate, migrationSteps } from '../../../renderer/document/migrations';
import type { MigrationStep } from '../../../renderer/document/migrations';
import { PLAN_VERSION } from '../../../shared-types/plan';

const renamed: MigrationStep = {
  from: 3,
  change: 'title is called title',
  migrate: ({ heading, ...rest }) => ({ ...rest, title: heading }),
  placeBefore: (place) => place.replace('title', 'heading'),
};
const counted: MigrationStep = {
  from: 4,
  change: 'a counter for ids',
  migrate: (raw) => {
    if (typeof raw['title'] !== 'string') throw new Error('title: found no text, expected some');
    return { ...raw, nextId: 1 };
  },
  placeBefore: (place) => place,
};

describe('the chain of file formats', () => {
  it('has one step for every version up to the current, in order', () => {
    const versions = Array.from(
      { length: PLAN_VERSION - OLDEST_VERSION },
      (_, i) => i + OLDEST_VERSION,
    );
    expect(migrationSteps.map((step) => step.from)).toEqual(versions);
  });

  it('runs every step from the file’s version to the wanted one and stamps it', () => {
    const raw = { version: 3, heading: 'Radish' };
    expect(migrate(raw, 3, 5, [counted, renamed])).toEqual({
      ok: true,
      raw: { version: 5, title: 'Radish', nextId: 1 },
      ran: [3, 4],
    });
    expect(raw).toEqual({ version: 3, heading: 'Radish' });
  });

  it('leaves a file of the wanted version alone', () => {
    const raw = { version: 5 };
    expect(migrate(raw, 5, 5, [counted, renamed])).toEqual({ ok: true, raw, ran: [] });
  });

  it('names the step that failed and why', () => {
    expect(migrate({ version: 4, title: 7 }, 4, 5, [counted])).toEqual({
      ok: false,
      at: 4,
      reason: 'a counter for ids: title: found no text, expected some',
    });
  });

  it('names a gap in the chain', () => {
    expect(migrate({ heading: 'x' }, 3, 5, [renamed])).toEqual({
      ok: false,
      at: 4,
      reason: 'no step leads on from version 4',
    });
  });
});

import { afterEach, beforeEach, expect, vi } from 'vitest';

// Stray output hides real trouble: a test that prints has failed.
const spies: ReturnType<typeof vi.spyOn>[] = [];

beforeEach(() => {
  for (const level of ['log', 'warn', 'error'] as const) {
    spies.push(vi.spyOn(console, level));
  }
});

afterEach(() => {
  const calls = spies.flatMap((spy) => spy.mock.calls);
  for (const spy of spies.splice(0)) spy.mockRestore();
  expect(calls, 'the test wrote to the console').toEqual([]);
});

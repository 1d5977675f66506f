import { describe, expect, it } from 'vitest';
import { codeToScan, labelBook, otherRunLabels } from '../../../renderer/document/records';
import { removeRun } from '../../../renderer/document/commands';
import { seenFrom } from '../../../renderer/document/runs';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';
import { twoRuns } from '../../builders/twoRuns';

const second = twoRuns();
const first = seenFrom(second, 'run0');
const own = labelBook(second);
const others = otherRunLabels(second);

describe('the code to scan', () => {
  it('carries the run only where there are several', () => {
    expect(codeToScan(drawnPlan(), '1A-B2')).toBe('1A-B2');
    expect(codeToScan(first, '1A-B2')).toBe('R1-1A-B2');
    expect(codeToScan(second, '1A-B2')).toBe('R2-1A-B2');
  });

  it('leads to its pot in its own run, as do labels that were printed without a run', () => {
    for (const label of ['R2-1A-B2', 'r2-1a-b2', ']Q1R2-1A-B2', 'R2 1AB2', '1A-B2', 't1:2:2']) {
      expect(own(label)).toMatchObject({ id: 't1:2:2' });
      expect(others(label.startsWith('t') ? 'R2-1A-B2' : label.replace(/^1A/, 'R2-1A'))).toBeNull();
    }
    expect(own('q6')).toMatchObject({ code: expect.any(String) as string });
  });

  it('is said to be of another run, by its code or by its plant', () => {
    expect(own('R1-1A-B2')).toBeUndefined();
    expect(others(']Q1R1-1A-B2')).toMatchObject({ runId: 'run0', pot: { id: 't1:2:2' } });
    expect(others('R1-1A-B2')).toMatchObject({
      said: 'This label is of run 1, pot 1A-B2; run 2 is shown.',
    });
    expect(own('p1')).toBeUndefined();
    expect(others('p1')).toMatchObject({ runId: 'run0', pot: { id: 't1:1:1' } });
    expect(otherRunLabels(first)('q1')).toMatchObject({ runId: second.runId });
  });

  it('leads nowhere where the trial has no such run or pot', () => {
    expect(others('R3-1A-B2')).toBe('This label is of run 3; the trial has 2 runs.');
    expect(others('R1-9Z-A1')).toBeNull();
    const one = run(second, removeRun, { runId: second.runId });
    expect(otherRunLabels(one)('R2-1A-B2')).toBe(
      'This label is of run 2; the trial has a single run.',
    );
    expect(labelBook(one)('R1-1A-B2')).toMatchObject({ id: 't1:2:2' });
    // No weight, and nothing a hand would type, is taken for a label.
    for (const text of ['12.43', '', 'R', 'R2', 'R2-', '2-1A-B2']) expect(others(text)).toBeNull();
  });
});

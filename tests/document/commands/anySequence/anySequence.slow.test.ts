import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as commands from '../../../../renderer/document/commands';
import {
  emptyHistory,
  recordStep,
  redoStep,
  undoStep,
} from '../../../../renderer/document/history';
import { findInconsistency, readPlan, writePlan } from '../../../../renderer/document/open';
import { runsOf, seenFrom, seenFromLast } from '../../../../renderer/document/runs';
import { potsOfRack } from '../../../../renderer/engine/geometry';
import { planSchema } from '../../../../shared-types/plan';
import type { Plan } from '../../../../shared-types/plan';
import { diceOf } from './dice';
import { layoutMoves } from './layoutMoves';
import { lightMoves } from './lightMoves';
import { rackMoves } from './rackMoves';
import { recordsMoves } from './recordsMoves';
import { trialMoves } from './trialMoves';
import { starts } from './starts';

const moves = [...rackMoves, ...lightMoves, ...trialMoves, ...layoutMoves, ...recordsMoves];

const sequences = fc.array(
  fc.record({
    move: fc.nat(moves.length - 1),
    throws: fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }),
  }),
  { minLength: 1, maxLength: 40 },
);

describe('any sequence of commands', () => {
  it('covers every command', () => {
    expect(moves.map(({ name }) => name).sort()).toEqual(
      [...Object.keys(commands), 'seenFrom'].sort(),
    );
  });

  it('keeps the plan sound, and undo and redo return the identical plans', () => {
    fc.assert(
      fc.property(sequences, fc.constantFrom(...starts), (sequence, start) => {
        const frozen = writePlan(start);
        let plan = start;
        let history = emptyHistory;
        const plans = [plan];
        for (const { move, throws } of sequence) {
          const outcome = moves[move]?.make(plan, diceOf(throws));
          if (!outcome) throw new Error(`no move ${move}`);
          if (!outcome.ok) {
            expect(outcome.reason).toMatch(/\.$/);
            continue;
          }
          if (outcome.plan === plan) continue;
          expect(planSchema.parse(outcome.plan)).toEqual(outcome.plan);
          for (const { id } of runsOf(outcome.plan)) {
            expect(findInconsistency(seenFrom(outcome.plan, id))).toBeNull();
          }
          expect(outcome.plan.nextId).toBeGreaterThanOrEqual(plan.nextId);
          const step = { label: outcome.label, before: plan, after: outcome.plan, mergeKey: null };
          history = recordStep(history, step);
          plan = outcome.plan;
          plans.push(plan);
        }
        const saved = seenFromLast(plan);
        expect(readPlan(writePlan(plan))).toEqual({ ok: true, plan: saved, migratedFrom: null });
        for (const expected of plans.slice(0, -1).reverse()) {
          const undone = undoStep(history);
          expect(undone?.plan).toBe(expected);
          if (undone) history = undone.history;
        }
        expect(undoStep(history)).toBeNull();
        for (const expected of plans.slice(1)) {
          const redone = redoStep(history);
          expect(redone?.plan).toBe(expected);
          if (redone) history = redone.history;
        }
        expect(writePlan(start)).toBe(frozen);
      }),
      { numRuns: 1200, seed: 20260301 },
    );
  });

  it('never changes the treatment under a value unless the layout logs an exchange', () => {
    const harvest = { m2: { 't1:1:1': 12, 't1:2:3': 9, 't2:1:2': 14 } };
    const recorded = starts
      .filter((start) => start.layout !== null)
      .map((start) => ({ ...start, records: { ...start.records, values: harvest } }));
    const thrown = fc.sample(fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }), {
      numRuns: 12,
      seed: 20260301,
    });
    for (const start of recorded) {
      const plantIn = (plan: Plan, id: string) =>
        plan.layout?.assignments.find(({ potId }) => potId === id);
      for (const { make } of moves) {
        for (const throws of thrown) {
          const made = make(start, diceOf(throws));
          const outcome = made.ok ? { ...made, plan: seenFrom(made.plan, start.runId) } : made;
          if (!outcome.ok || outcome.plan.layout?.swaps.length !== start.layout?.swaps.length) {
            expect(outcome.ok && outcome.plan.layout === null).toBe(false);
            continue;
          }
          const pots = new Set(potsOfRack(outcome.plan.rack).map(({ id }) => id));
          for (const id of Object.keys(outcome.plan.records.values['m2'] ?? {})) {
            expect(pots.has(id)).toBe(true);
            if (harvest.m2[id as keyof typeof harvest.m2] === undefined) continue;
            expect(plantIn(outcome.plan, id)).toEqual(plantIn(start, id));
          }
        }
      }
    }
  });

  // A property over commands that are always refused would say nothing.
  it('lets each command change some plan', () => {
    const throws = fc.sample(fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }), {
      numRuns: 16,
      seed: 20260301,
    });
    const unmoved = new Set(moves.map(({ name }) => name));
    for (const thrown of throws) {
      for (const start of starts) {
        let plan = start;
        for (const { name, make } of [...moves, ...moves]) {
          if (unmoved.size === 0) return;
          const fresh = make(start, diceOf(thrown));
          if (fresh.ok && fresh.plan !== start) unmoved.delete(name);
          const outcome = make(plan, diceOf(thrown));
          if (!outcome.ok || outcome.plan === plan) continue;
          unmoved.delete(name);
          plan = outcome.plan;
        }
      }
    }
    expect([...unmoved]).toEqual([]);
  });
});

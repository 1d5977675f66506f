import { expect, it } from 'vitest';
import { noticesOf, remedyOf } from '../../renderer/derive';
import { applyCommand } from '../../renderer/document/apply';
import type { NoticeKind } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { undrawn } from '../builders/examplePlans';

const told = (plan: Plan, kind: NoticeKind) => noticesOf(plan).filter((one) => one.kind === kind);

/** The plan after the button of the first notice of a kind. */
function mended(plan: Plan, kind: NoticeKind): Plan {
  const [notice] = told(plan, kind);
  const remedy = notice && remedyOf(notice, plan);
  const done = remedy && applyCommand(plan, remedy.command, null);
  if (!done?.ok) throw new Error(`${kind} has a button that is carried out`);
  return done.plan;
}

it('takes the best way out of a trial that cannot answer', () => {
  const plan = undrawn('two-lamps');
  const after = mended(plan, 'factor-not-replicated');
  expect(told(after, 'factor-not-replicated')).toEqual([]);
  const kinds = new Set(noticesOf(plan).map(({ kind }) => kind));
  const stops = noticesOf(after).filter(({ severity }) => severity === 'stop');
  expect(stops.filter(({ kind }) => !kinds.has(kind))).toEqual([]);
});

it('takes the usual risk of a false alarm', () => {
  const basil = undrawn('basil');
  const { analysisLocked: _locked, ...trial } = basil.trial;
  const risky = { ...basil, trial: { ...trial, alpha: 0.3 } };
  expect(mended(risky, 'alpha-unusual').trial?.alpha).toBe(0.05);
});

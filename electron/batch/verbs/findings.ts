import { findingsOfPlan, growthByTreatment, noticesOf } from '../../../renderer/derive';
import { paragraph, statements } from '../../../renderer/engine/findings';
import { BatchError } from '../batch-error';
import { readPlanFile } from '../inputs';
import type { Verb } from '../verb';

export const findingsVerb: Verb = {
  name: 'findings',
  gives: 'All tables and statements of the findings of a plan with records.',
  takes: ['PLAN'],
  options: {},
  async run(args) {
    const path = args.positional('PLAN');
    const plan = await readPlanFile(path);
    const outcome = findingsOfPlan(plan);
    if (!outcome.ok) {
      throw new BatchError(
        path,
        outcome.missing.replace(/\.$/, ''),
        'a plan with records is expected',
      );
    }
    const { findings } = outcome;
    const codes = new Map(findings.pots.map((pot) => [pot.id, pot.code]));
    return {
      response: findings.response,
      question: {
        measurement: findings.question.measurement.name,
        index: findings.question.index,
        days: findings.question.days,
      },
      statements: statements(findings),
      paragraph: paragraph(findings),
      primary: findings.primary,
      positions: findings.positions.map(({ model, result }) => ({
        model,
        terms: result.terms,
        means: result.means,
        comparisons: result.comparisons,
        variance: result.variance,
        spatial: result.spatial,
        logLik: result.logLik,
        aic: result.aic,
        checks: result.checks,
      })),
      refused: findings.refused,
      edge: findings.edge,
      light: findings.light,
      notReplicated: findings.described,
      growth: growthByTreatment(plan, findings.question.measurement.id),
      leftOut: findings.leftOut.map(({ pot, why }) => ({ pot: pot.code, why })),
      residuals: Object.fromEntries(
        [...findings.residuals].map(([id, residual]) => [codes.get(id) ?? id, residual]),
      ),
      notices: noticesOf(plan, outcome).filter(
        (n) => n.stage === 'findings' || n.stage === 'records',
      ),
    };
  },
};

import type { FitResult } from '../../../../shared-types/fit';
import type { PositionModel } from '../../../../shared-types/trial/position';
import { unitWords } from '../../../../shared-types/trial/trial';
import type { Findings } from '../findings';
import { controlOf } from '../sizes/planned';
import type { FactorRole } from '../model/roles';
import { isCounts, isRatio, type ResponseScale } from '../model/scale';
import { looksBetweenUnits } from '../model/unitMeans';

/** A difference as one model gives it. */
export interface SensitivityCell {
  model: PositionModel;
  estimate: number;
  lower: number;
  upper: number;
  p: number;
  /** Whether a difference is shown at the level of the findings. */
  shown: boolean;
  /** What the model says otherwise than the one that answers; null where it says the same. */
  changes: 'sign' | 'verdict' | null;
}

export interface SensitivityRow {
  factor: string;
  /** `strong − weak`, or the name of a planned comparison. */
  label: string;
  planned: boolean;
  /** Of the models that can judge the factor, and the one that answers. */
  cells: SensitivityCell[];
  /** Models that cannot judge it, see `judges`. */
  unable: PositionModel[];
}

/**
 * Whether a position model can judge a factor. Place within a tray says nothing about what was given
 * to whole trays, shelves or strips: such a factor is judged by its own units, and only light, which
 * differs between them, can add to that.
 */
export function judges(model: PositionModel, role: Pick<FactorRole, 'unit'>): boolean {
  return role.unit === 'pot' || looksBetweenUnits(model);
}

/** Why it cannot, as a part of a sentence. */
export function cannotJudge({ factor, unit }: Pick<FactorRole, 'factor' | 'unit'>): string {
  return `cannot judge ${factor.name}, which was given to whole ${unitWords[unit].many}`;
}

/** Every planned comparison and every pair of levels under each position model. */
export function sensitivityOf(findings: Findings): SensitivityRow[] {
  return findings.design.tested.flatMap((role) => {
    const { factor, column } = role;
    const shown = findings.positions.filter((position) => {
      return position.model === findings.primary.model || judges(position.model, role);
    });
    const unable = findings.positions.filter((p) => !shown.includes(p)).map((p) => p.model);
    const cellsOf = (find: (result: FitResult) => Figures | null): SensitivityCell[] => {
      const answer = find(findings.primary.result);
      return shown.flatMap(({ model, result }) => {
        const found = find(result);
        if (!found) return [];
        const changes = changesOf(found, answer, findings.alpha);
        return [{ ...found, model, shown: found.p < findings.alpha, changes }];
      });
    };
    const planned = findings.primary.result.contrasts
      .filter((row) => row.of === column)
      .map(({ name }): SensitivityRow => ({
        factor: factor.name,
        label: name,
        planned: true,
        cells: cellsOf((result) => {
          const row = result.contrasts.find((r) => r.of === column && r.name === name);
          return row ? pick(row, row.estimate) : null;
        }),
        unable,
      }));
    const pairs = (mainComparison(findings.primary.result, role)?.rows ?? []).map(
      ({ a, b }): SensitivityRow => ({
        factor: factor.name,
        label: `${a} ${isRatio(findings.scale) ? '÷' : '−'} ${b}`,
        planned: false,
        cells: cellsOf((result) => {
          const row = mainComparison(result, role)?.rows.find((r) => r.a === a && r.b === b);
          return row ? pick(row, row.difference) : null;
        }),
        unable,
      }),
    );
    return [...planned, ...pairs];
  });
}

type Figures = Pick<SensitivityCell, 'estimate' | 'lower' | 'upper' | 'p'>;

/** A difference that another model puts outside the interval of the answer. */
export interface PositionMove {
  factor: string;
  /** `strong − weak` */
  label: string;
  model: PositionModel;
  /** On the scale of the fit: as it answers with its interval, and by the other model. */
  here: Figures;
  there: number;
  /** How far it moves, in standard errors of the answer. */
  standardErrors: number;
}

/**
 * Of each factor the pair that moves furthest against its error, where another model that can judge
 * it lands outside the interval of the answer. That a model is less sure is no contradiction.
 */
export function movedAnswers(findings: Findings): PositionMove[] {
  const { primary } = findings;
  return findings.design.tested.flatMap((role) => {
    const answer = mainComparison(primary.result, role)?.rows ?? [];
    const moves = findings.positions
      .filter(({ model }) => model !== primary.model && judges(model, role))
      .flatMap(({ model, result }) => {
        const rows = mainComparison(result, role)?.rows ?? [];
        return answer.flatMap((row): PositionMove[] => {
          const { a, b, difference, se, lower, upper } = row;
          const there = rows.find((other) => other.a === a && other.b === b)?.difference;
          if (there === undefined || (there >= lower && there <= upper)) return [];
          const label = `${a} ${isRatio(findings.scale) ? '÷' : '−'} ${b}`;
          const standardErrors = Math.abs(there - difference) / se;
          const here = pick(row, difference);
          return [{ factor: role.factor.name, label, model, here, there, standardErrors }];
        });
      });
    return moves.sort((a, b) => b.standardErrors - a.standardErrors).slice(0, 1);
  });
}

/** An estimate on the other side of zero weighs more than a verdict that differs. */
function changesOf(
  found: Figures,
  answer: Figures | null,
  alpha: number,
): SensitivityCell['changes'] {
  if (!answer) return null;
  if (found.estimate * answer.estimate < 0) return 'sign';
  return found.p < alpha === answer.p < alpha ? null : 'verdict';
}

function pick(row: { lower: number; upper: number; p: number }, estimate: number): Figures {
  return { estimate, lower: row.lower, upper: row.upper, p: row.p };
}

/** Differences from the control where one was chosen, else all pairs. */
export function mainComparison(
  result: FitResult,
  role: Pick<FactorRole, 'column' | 'factor'>,
): FitResult['comparisons'][number] | undefined {
  const own = result.comparisons.filter(
    (c) => c.of.length === 1 && c.of[0] === role.column && c.by.length === 0,
  );
  const wanted = controlOf(role) === null ? 'tukey' : 'dunnett';
  return own.find((c) => c.method === wanted) ?? own.find((c) => c.method === 'tukey');
}

/** What the models are compared by, and that it chooses none. */
export function criterionBasis(scale: ResponseScale): string {
  const basis = isCounts(scale)
    ? 'Akaike’s criterion is that of the likelihood of the counts. '
    : FULL_LIKELIHOOD;
  return `${basis}It does not choose the model: the analysis locked before harvest does.`;
}

const FULL_LIKELIHOOD =
  'Akaike’s criterion is that of the full likelihood at the estimates (variances by REML), counting ' +
  'fixed coefficients and variances, so that models with different fixed parts can be compared; ' +
  'REML criteria could not. ';

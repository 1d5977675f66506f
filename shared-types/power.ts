import { z } from 'zod';

/**
 * Request and result of the batch verb `power`: how surely a trial of this size finds an effect of
 * this size, how many units that takes, or how small a difference it can find.
 */

/** Means of the treatments, nested in the order of the factors: `means[i][j]`. */
export type NestedMeans = number | NestedMeans[];
const nestedMeans: z.ZodType<NestedMeans> = z.lazy(() =>
  z.union([z.number(), z.array(nestedMeans).min(1)]),
);

/** A factor, or an interaction as the list of its factors. */
const termName = z.union([z.string().min(1), z.array(z.string().min(1)).min(1)]);

export const powerRequestSchema = z
  .strictObject({
    alpha: z.number().gt(0).lt(1).default(0.05),
    /** Number of levels of each factor. */
    treatments: z.record(z.string().min(1), z.int().min(2).max(1000)),
    /** Experimental units of each treatment combination, over all blocks. Not for `units`. */
    unitsPerCell: z.int().min(1).max(1_000_000).optional(),
    /** Standard deviation between units treated alike. */
    sd: z.number().gt(0).optional(),
    means: z.array(nestedMeans).min(1).optional(),
    /** f: standard deviation of the effects (divisor: number of cells) over sd. */
    effect: z.strictObject({ f: z.number().gt(0), of: termName }).optional(),
    /** Complete blocks; `one-per-replicate`: each block holds every treatment once. */
    blocks: z.union([z.int().min(1), z.literal('one-per-replicate')]).default(1),
    solve: z.enum(['power', 'units', 'difference']).default('power'),
    /** The power that `units` and `difference` are to reach. */
    power: z.number().gt(0).lt(1).optional(),
    /** The terms that are to reach it; without it all that have an effect. */
    for: z.array(termName).min(1).optional(),
  })
  .superRefine((request, context) => {
    const refuse = (path: string, message: string): void => {
      context.addIssue({ code: 'custom', path: [path], message });
    };
    if (Object.keys(request.treatments).length === 0) refuse('treatments', 'expected a factor');
    if (request.solve !== 'units' && request.unitsPerCell === undefined) {
      refuse('unitsPerCell', `missing; expected with solve ${request.solve}`);
    }
    if (request.solve !== 'power') {
      if (request.power === undefined) {
        refuse('power', `missing; expected with solve ${request.solve}`);
      } else if (request.power <= request.alpha) {
        refuse('power', `${request.power}; expected above alpha ${request.alpha}`);
      }
    }
    if (request.solve !== 'difference') {
      if ((request.means === undefined) === (request.effect === undefined)) {
        refuse('means', 'expected either means or effect, one of them');
      }
    }
    const needsSd = request.means !== undefined || request.solve === 'difference';
    if (needsSd && request.sd === undefined) {
      refuse('sd', 'missing; expected the standard deviation between units treated alike');
    }
  });

export type PowerRequest = z.infer<typeof powerRequestSchema>;
/** As a person writes it, before defaults. */
export type PowerRequestInput = z.input<typeof powerRequestSchema>;

export interface PowerTerm {
  /** Factors joined by ×, e.g. `light × medium`. */
  term: string;
  of: string[];
  dfEffect: number;
  dfError: number;
  /** Standard deviation of the term's effects (divisor: number of cells) over sd. */
  f: number;
  /** N f², N all units. */
  noncentrality: number;
  criticalF: number;
  power: number;
  /** Least units per cell for the power asked; null where not asked or the term has no effect. */
  unitsNeeded: number | null;
  /**
   * Smallest detectable difference between the highest and the lowest level, the others midway,
   * in the unit of sd; null where not asked and for interactions, which only have f.
   */
  difference: number | null;
}

export interface PowerResult {
  solve: PowerRequest['solve'];
  alpha: number;
  cells: number;
  unitsPerCell: number;
  /** All units: cells × unitsPerCell. */
  units: number;
  blocks: number;
  dfError: number;
  /** The lowest power among the terms asked for. */
  power: number;
  terms: PowerTerm[];
  notes: string[];
}

import { z } from 'zod';
import { dateSchema, idSchema, nameSchema } from '../basics';

/**
 * How values enter the analysis: as square roots or logarithms, or as counts with a log link. Their
 * absence means as measured.
 */
export const scaleSchema = z.enum(['sqrt', 'log', 'poisson', 'quasi-poisson', 'negative-binomial']);

/** What is measured of a plant. */
export const measurementKinds = ['weight', 'count', 'length', 'score', 'index'] as const;

export const measurementKindWords: Record<Measurement['kind'], string> = {
  weight: 'weight',
  count: 'count',
  length: 'length',
  score: 'score',
  index: 'index (reading of a meter)',
};

/** What holds of the values of each kind. */
export const measurementTraits: Record<
  Measurement['kind'],
  {
    /** Counted: whole numbers, kept as they are. */
    whole: boolean;
    /** On a ratio scale: never below 0, and compared by how many times one is the other. */
    ratio: boolean;
    /** Taken on a balance, with a dish to take off. */
    weighed: boolean;
    /** A distance, which may be how high plants have grown. */
    long: boolean;
    /** Of few steps, so that means are judged by the shuffle alone and not by a normal law. */
    steps: boolean;
  }
> = {
  weight: { whole: false, ratio: true, weighed: true, long: false, steps: false },
  count: { whole: true, ratio: true, weighed: false, long: false, steps: false },
  length: { whole: false, ratio: true, weighed: false, long: true, steps: false },
  score: { whole: false, ratio: false, weighed: false, long: false, steps: true },
  index: { whole: false, ratio: true, weighed: false, long: false, steps: false },
};

/**
 * What a measurement of each kind begins with. A count has no decimals and is analysed as a count:
 * quasi-Poisson, because plants differ by more than chance alone would have them.
 */
export const usualOfKind: Record<
  Measurement['kind'],
  Pick<Measurement, 'unit' | 'decimals' | 'lowest' | 'highest'> & { scale?: Scale }
> = {
  weight: { unit: 'g', decimals: 1, lowest: 0, highest: null },
  count: { unit: '', decimals: 0, lowest: 0, highest: null, scale: 'quasi-poisson' },
  length: { unit: 'mm', decimals: 0, lowest: 0, highest: null },
  score: { unit: '', decimals: 0, lowest: 1, highest: 5 },
  index: { unit: '', decimals: 1, lowest: 0, highest: null },
};

export const measurementSchema = z.strictObject({
  id: idSchema,
  name: nameSchema,
  /**
   * What it is of, where that is not its name: what it was called while it shared that name with
   * others. Measurements of one kind, unit and quantity are one thing at several times.
   */
  quantity: nameSchema.optional(),
  kind: z.enum(measurementKinds),
  /** As shown: g, leaves, mm… */
  unit: z.string().trim().max(20),
  decimals: z.int().min(0).max(4),
  timepoint: z.enum(['start', 'interim', 'harvest']),
  date: dateSchema.nullable(),
  /** Outside these a value is taken for a slip and asked about. */
  lowest: z.number().nullable(),
  highest: z.number().nullable(),
  scale: scaleSchema.optional(),
  /**
   * Of lengths: whether they are heights of plants above their pot, which the light follows. Absent:
   * where the name says height.
   */
  plantHeight: z.boolean().optional(),
});

export type Scale = z.infer<typeof scaleSchema>;

export type Measurement = z.infer<typeof measurementSchema>;

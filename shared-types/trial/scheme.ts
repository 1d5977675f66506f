import { z } from 'zod';

export const blocksSchema = z.discriminatedUnion('by', [
  z.strictObject({ by: z.literal('none') }),
  z.strictObject({ by: z.literal('shelf') }),
  z.strictObject({ by: z.literal('bay') }),
  z.strictObject({ by: z.literal('tray') }),
  z.strictObject({ by: z.literal('tray-halves') }),
  z.strictObject({ by: z.literal('tray-quarters') }),
  /** Bands of pot rows (front to back) or columns (left to right) within each bay. */
  z.strictObject({ by: z.literal('rows'), perBlock: z.int().min(1).max(200) }),
  z.strictObject({ by: z.literal('columns'), perBlock: z.int().min(1).max(200) }),
  /** Equal-size bands of pots along the light they receive, over the whole rack. */
  z.strictObject({ by: z.literal('light'), bands: z.int().min(2).max(200) }),
]);

export const schemes = [
  'completely-randomised',
  'complete-blocks',
  'split-plot',
  'latin-square',
  'row-and-column',
  'incomplete-blocks',
  'strip-plot',
] as const;

export const schemeSchema = z.enum(schemes);

export const schemeLabels: Record<Scheme, string> = {
  'completely-randomised': 'completely randomised',
  'complete-blocks': 'randomised complete blocks',
  'split-plot': 'split plot',
  'latin-square': 'Latin square',
  'row-and-column': 'rows and columns',
  'incomplete-blocks': 'incomplete blocks',
  'strip-plot': 'strip plot',
};

/** What sets the schemes apart; whatever decides by a scheme asks for one of these. */
export interface SchemeTraits {
  /** A group's treatments: equal shares shuffled, squares side by side, even lines, or a design. */
  draw: 'shares' | 'squares' | 'lines' | 'design';
  /** Randomises within the trial's blocks. */
  blocks?: true;
  /** Lays treatments along rows and columns. */
  grid?: true;
  /** Pots are drawn by a free shuffle within groups. */
  shuffled?: true;
  /** Factors on larger units are drawn first, those on smaller ones within them. */
  nested?: true;
  /** Factors on strips cross within blocks. */
  strips?: true;
  /** A block need not hold every treatment. */
  incomplete?: true;
  /** Means to have groups that hold no multiple of the treatments. */
  anySize?: true;
}

export const schemeTraits: Record<Scheme, SchemeTraits> = {
  'completely-randomised': { draw: 'shares', shuffled: true },
  'complete-blocks': { draw: 'shares', blocks: true, shuffled: true },
  'split-plot': { draw: 'shares', blocks: true, shuffled: true, nested: true },
  'latin-square': { draw: 'squares', blocks: true, grid: true },
  'row-and-column': { draw: 'lines', blocks: true, grid: true, anySize: true },
  'incomplete-blocks': { draw: 'design', blocks: true, incomplete: true, anySize: true },
  'strip-plot': { draw: 'shares', blocks: true, strips: true },
};

export const constraintSchema = z.strictObject({
  /** Share of candidate draws that are acceptable; 1 takes the first draw. */
  acceptanceShare: z.number().gt(0).max(1),
  balance: z.array(z.enum(['light', 'position', 'start'])),
  /** At most this many pots of one treatment side by side in a row or column; null: no cap. */
  likeNeighbours: z.int().min(1).max(50).nullable(),
});

export type Blocks = z.infer<typeof blocksSchema>;

export type Scheme = z.infer<typeof schemeSchema>;

export type Constraint = z.infer<typeof constraintSchema>;

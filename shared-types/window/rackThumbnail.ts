import { z } from 'zod';

const figure = z.number().min(-1e6).max(1e6);
const rect = z.strictObject({
  kind: z.enum(['post', 'shelf', 'lamp', 'tray', 'pot']),
  x: figure,
  /** From the top. */
  y: figure,
  w: figure.min(0),
  h: figure.min(0),
});

/** A rack from the front in small, so that a plan is known again in a list without being opened. */
export const rackThumbnailSchema = z.strictObject({
  w: figure.gt(0),
  h: figure.gt(0),
  rects: z.array(rect).max(1200),
});

/** What is kept of a plan that was open, by the key of its file. */
export const recentPictureSchema = z.strictObject({
  key: z.string().min(1).max(4000),
  title: z.string().max(200),
  shelves: z.int().min(0),
  pots: z.int().min(0),
  picture: rackThumbnailSchema.nullable(),
});

export type RackThumbnail = z.infer<typeof rackThumbnailSchema>;
export type RecentPicture = z.infer<typeof recentPictureSchema>;

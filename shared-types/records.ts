import { z } from 'zod';
import { dateSchema, idSchema, potIdSchema, textSchema } from './basics';

export const markSchema = z.strictObject({
  mark: z.enum(['dead', 'missing', 'excluded']),
  date: dateSchema.nullable(),
  reason: textSchema,
});

export const incidentSchema = z.strictObject({
  id: idSchema,
  date: dateSchema,
  text: textSchema,
  /** Shelf, tray or pot ids it concerns; empty for the whole rack. */
  about: z.array(z.string()),
});

export const recordsSchema = z.strictObject({
  /** Values by measurement id, then by pot id. */
  values: z.record(idSchema, z.record(potIdSchema, z.number())),
  /** Second, independent entry of the same values. */
  second: z.record(idSchema, z.record(potIdSchema, z.number())),
  marks: z.record(potIdSchema, markSchema),
  incidents: z.array(incidentSchema),
});

export type Mark = z.infer<typeof markSchema>;
export type Incident = z.infer<typeof incidentSchema>;
export type Records = z.infer<typeof recordsSchema>;

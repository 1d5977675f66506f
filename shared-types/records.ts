import { z } from 'zod';
import { dateSchema, idSchema, instantSchema, potIdSchema, textSchema } from './basics';
import { deliveredSchema } from './delivered';

export const markSchema = z.strictObject({
  mark: z.enum(['dead', 'missing', 'excluded']),
  date: dateSchema.nullable(),
  reason: textSchema,
});

/** A photo reduced for the file: some hundred kilobytes, enough to see a leaf by. */
export const MOST_PHOTO_SIGNS = 300_000;

export const incidentSchema = z.strictObject({
  id: idSchema,
  date: dateSchema,
  text: textSchema,
  /** Ids of the shelves, trays, lamps or pots it concerns; empty for the whole rack. */
  about: z.array(z.string()),
  /** A reduced photo, JPEG as a data address (RFC 2397). */
  photo: z
    .string()
    .max(MOST_PHOTO_SIGNS)
    .regex(/^data:image\/jpeg;base64,[A-Za-z0-9+/]+=*$/, 'a JPEG photo as a data address')
    .optional(),
  /** Written by the program on an act that must stay known: it is neither changed nor removed. */
  kept: z.literal(true).optional(),
});

/** What was seen on one pot, and files about it. */
export const potNoteSchema = z.strictObject({
  text: textSchema,
  /** Photos and other files by path or address; the files stay where they are. */
  files: z.array(z.string().trim().min(1).max(1000)).max(100),
});

/** One act of entering values: to the minute, and by whom where initials were given. */
export const entryActSchema = z.strictObject({
  at: instantSchema,
  by: z.string().trim().min(1).max(8).optional(),
});

/** A value that stood once, and the act that took its place; `entered`: absent, before acts were kept. */
export const replacedValueSchema = z.strictObject({
  measurementId: idSchema,
  potId: potIdSchema,
  was: z.number(),
  entered: z.int().min(0).optional(),
  act: z.int().min(0),
  /** Of the independent second entry. */
  second: z.literal(true).optional(),
});

/** What a pot's mark or note was before an act; null: it had none. */
const replacedStateSchema = <Was extends z.ZodType>(was: Was) =>
  z.strictObject({
    potId: potIdSchema,
    was: was.nullable(),
    act: z.int().min(0),
    /** Of the independent second entry. */
    second: z.literal(true).optional(),
  });

/** When and by whom each value was entered, as the number of its act, and what values replaced. */
export const trailSchema = z.strictObject({
  acts: z.array(entryActSchema),
  entered: z.record(idSchema, z.record(potIdSchema, z.int().min(0))),
  enteredSecond: z.record(idSchema, z.record(potIdSchema, z.int().min(0))).optional(),
  replaced: z.array(replacedValueSchema),
  /** Every change of a mark, in the order of time; absent: none since acts are kept. */
  marks: z.array(replacedStateSchema(markSchema)).optional(),
  notes: z.array(replacedStateSchema(potNoteSchema)).optional(),
});

export const recordsSchema = z.strictObject({
  /** Values by measurement id, then by pot id. */
  values: z.record(idSchema, z.record(potIdSchema, z.number())),
  /** Second, independent entry of the same values. */
  second: z.record(idSchema, z.record(potIdSchema, z.number())),
  marks: z.record(potIdSchema, markSchema),
  /** Marks of the second, independent entry, where there are any. */
  secondMarks: z.record(potIdSchema, markSchema).optional(),
  incidents: z.array(incidentSchema),
  /** Notes by pot id, where there are any. */
  notes: z.record(potIdSchema, potNoteSchema).optional(),
  /**
   * Of measurements from which values were cleared: the most that ever stood, by measurement id, so
   * that a rule fixed after the clearing cannot be taken for one fixed before any value.
   */
  stoodBefore: z.record(idSchema, z.int().min(1)).optional(),
  /**
   * Weight of the dish, by measurement id and in its unit: taken off every weight that is typed or
   * sent by a balance, before it is kept. Values are always net.
   */
  tare: z.record(idSchema, z.number().gt(0)).optional(),
  /**
   * Days on which values were taken, by measurement id and pot id: only of values that were not taken
   * on the day of their measurement.
   */
  days: z.record(idSchema, z.record(potIdSchema, dateSchema)).optional(),
  /** Absent: all values were entered before it was kept. */
  trail: trailSchema.optional(),
  /** What units got of water and light, day by day; absent: nothing was logged. */
  delivered: deliveredSchema.optional(),
  /** Treatments are shown as codes since this day; absent: they are shown. Lifted as an act with a reason. */
  blinded: z.strictObject({ since: dateSchema }).optional(),
});

export type EntryAct = z.infer<typeof entryActSchema>;
export type Trail = z.infer<typeof trailSchema>;
export type Mark = z.infer<typeof markSchema>;
export type PotNote = z.infer<typeof potNoteSchema>;
export type Incident = z.infer<typeof incidentSchema>;
export type Records = z.infer<typeof recordsSchema>;

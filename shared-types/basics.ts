import { z } from 'zod';

/** Permanent ids: a letter for the kind, then a number that is never given out twice in a plan. */
export const idSchema = z.string().regex(/^[a-z]+[0-9]+$/, 'an id such as s1');

/** A pot's permanent id: the tray's id, then row and column in its grid, counted from 1. */
export const potIdSchema = z
  .string()
  .regex(/^[a-z]+[0-9]+:[0-9]+:[0-9]+$/, 'a pot id such as t1:2:3');

export const nameSchema = z.string().trim().min(1).max(120);
export const textSchema = z.string().max(20_000);
/** Calendar date, ISO 8601. */
export const dateSchema = z.iso.date();
/** Date and time with offset, ISO 8601. */
export const instantSchema = z.iso.datetime({ offset: true });

export const lengthMm = z.number().min(0).max(20_000);
export const positiveMm = z.number().gt(0).max(20_000);
export const coordinateMm = z.number().min(-20_000).max(20_000);
export const share = z.number().min(0).max(1);
export const angleDeg = z.number().min(-360).max(360);

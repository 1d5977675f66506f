import type { Lamp, LampKind, Shelf } from '../../../../shared-types/rack';
import type { Rect } from '../../geometry';
import { litSize } from '../../lamps';

/** How equal lamps may lie: in rows along x (places count along y) or along y (along x). */
export interface RowPlan {
  along: 'x' | 'y';
  rows: number;
  perRow: number;
  /** Where a row's middle may be: along y for rows along x, along x for rows along y. mm. */
  fromMm: number;
  toMm: number;
  apartMm: number;
}

export interface RowLimits {
  /** From a row's middle to the edge of shelf or bay beside it, at least. */
  fromSidesMm: number;
  /** From one row's middle to the next, at least. */
  apartMm: number;
}

/** One row's place, height and dimming. */
export interface RowPlace {
  placeMm: number;
  zMm: number;
  dimming: number;
}

/**
 * The ways in which `count` lamps of a kind fit over a bay: whole rows whose lamps do not overlap
 * and that keep their distances. `perRow` asks for rows along x of so many and nothing else. Where
 * no board is in the way (`open`), a lamp longer than the shelf may stick out of it.
 */
export function rowPlans(
  { xMm, yMm, widthMm: acrossMm, depthMm: deepMm }: Rect,
  kind: LampKind,
  count: number,
  limits: RowLimits,
  { perRow, open }: { perRow?: number | undefined; open: boolean },
): RowPlan[] {
  const plans: RowPlan[] = [];
  const { lengthMm, widthMm } = litSize(kind);
  const apartMm = Math.max(limits.apartMm, widthMm);
  const asideMm = Math.max(limits.fromSidesMm, widthMm / 2);
  for (const along of ['x', 'y'] as const) {
    const [span, beside, startMm] =
      along === 'x' ? [acrossMm, deepMm, yMm] : [deepMm, acrossMm, xMm];
    for (let inRow = 1; inRow <= count; inRow++) {
      const rows = count / inRow;
      const asked = perRow === undefined || (along === 'x' && inRow === perRow);
      const needed = (rows - 1) * apartMm + 2 * asideMm;
      // A lamp longer than the shelf either way hangs along x and sticks out; two in line never do.
      const sticksOut = open && inRow === 1 && along === 'x' && lengthMm > deepMm;
      const fits = inRow * lengthMm <= span || sticksOut;
      if (!asked || !Number.isInteger(rows) || !fits || needed > beside) continue;
      const [fromMm, toMm] = [startMm + asideMm, startMm + beside - asideMm];
      plans.push({ along, rows, perRow: inRow, fromMm, toMm, apartMm });
    }
  }
  return plans;
}

/** The lamps of one row, equally spread along it. */
export function lampsOfRow(
  rect: Rect,
  kind: LampKind,
  { along, perRow }: RowPlan,
  { placeMm, zMm, dimming }: RowPlace,
): Omit<Lamp, 'id'>[] {
  const [startMm, span] = along === 'x' ? [rect.xMm, rect.widthMm] : [rect.yMm, rect.depthMm];
  return Array.from({ length: perRow }, (_, i) => {
    const inRow = startMm + (span * (i + 0.5)) / perRow;
    return {
      kindId: kind.id,
      xMm: along === 'x' ? inRow : placeMm,
      yMm: along === 'x' ? placeMm : inRow,
      zMm,
      rotationDeg: along === 'x' ? 0 : 90,
      tiltDeg: 0,
      dimming,
      group: '',
    };
  });
}

/** The shelf with these lamps and no others. */
export function shelfWith<S extends Shelf>(shelf: S, lamps: readonly Omit<Lamp, 'id'>[]): S {
  return { ...shelf, lamps: lamps.map((lamp, i) => ({ ...lamp, id: `l${i + 1}` })) };
}

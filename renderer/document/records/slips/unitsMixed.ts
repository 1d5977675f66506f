import type { Measurement } from '../../../../shared-types/trial/measurement';
import { figuresOf, grouped, knownOf, livingFigures, logsOf, trayGroups } from './column';
import { medianInPlace, medianOfSorted, medianWithout } from './robust';
import type { ColumnSource, SlipSource } from './slip';

/** A tray, or the whole column, that is off by a constant factor. Asked about, never changed. */
export interface UnitMix {
  measurement: Measurement;
  /** The trays that are off; null: the whole column. */
  trayIds: readonly string[] | null;
  /** In the middle: what is recorded, and what it is held against. */
  found: number;
  against: number;
  /** What the other is: other trays, the values measured before, or the last decimal. */
  by: 'trays' | 'before' | 'decimals';
  /** Units that are as far apart, such as `g and kg`; null: none known. */
  units: string | null;
}

/** Units that are mixed up, by how far they are apart; ounce, pound and inch of 1959. */
const APART: Record<Measurement['kind'], readonly (readonly [number, string])[]> = {
  weight: [
    [1000, 'g and kg'],
    [453.59237, 'g and lb'],
    [28.349523125, 'g and oz'],
  ],
  length: [
    [1000, 'mm and m'],
    [304.8, 'mm and ft'],
    [100, 'cm and m'],
    [25.4, 'mm and in'],
    [10, 'mm and cm'],
  ],
  count: [],
  score: [],
  index: [],
};

/** How far a factor may be from a known one: trays differ in growth, too. */
const NEAR = Math.log(1.8);
/** No treatment makes as much: asked about even where no other tray has the same treatments. */
const SURELY = Math.log(20);
/** Trays with the same treatments do not differ so much. */
const HARDLY = Math.log(5.5);
/** The other trays all together have to be on the same side, or a neighbour is off, not this one. */
const SIDE = Math.log(2);
/** Of a tray's pots, so many have to be off alike. */
const ALIKE = 0.75;
const FEWEST_IN_TRAY = 3;
const FEWEST_IN_COLUMN = 6;
/** A column that grew so often since it was measured before, from weights that a balance could read well. */
const MOST_GROWTH = 1000;
/** A column whose middle is less than so many steps of its last decimal says almost nothing. */
const FEWEST_STEPS = 1.5;

/*
 * Whether trays, or the whole column, are off by a constant factor, as where one person weighs in
 * kilograms. A tray is held against the trays with the same treatments, pot by pot of a treatment,
 * on the scale of logarithms; a treatment of its own has to be off twentyfold, for a strong
 * treatment may make tenfold. The column is held against the values measured before, or else against what its
 * decimals can tell.
 */

/** The values above 0 of the living, NaN elsewhere; null where the unit could not be another. */
function positive(source: ColumnSource): Float64Array | null {
  if (APART[source.measurement.kind].length === 0) return null;
  return livingFigures(source).map((value) => (value > 0 ? value : NaN));
}

/** The whole column, if it is off from the values measured before or from what its decimals can tell. */
export function mixedColumn(source: SlipSource): UnitMix | null {
  const { measurement, pots, before } = source;
  const values = positive(source);
  const known = values && knownOf(values);
  if (!known || known.length < FEWEST_IN_COLUMN) return null;
  const step = 10 ** -measurement.decimals;
  const found = medianInPlace(known);
  const off = (against: number, by: UnitMix['by'], factor: number): UnitMix => ({
    measurement,
    trayIds: null,
    found,
    against,
    by,
    units: by === 'before' ? null : unitsApart(measurement, factor),
  });
  const earlier = before && figuresOf(pots, before.values);
  const began = earlier
    ? knownOf(
        earlier.map((value, i) => (value > 0 && !Number.isNaN(values[i] ?? NaN) ? value : NaN)),
      )
    : null;
  if (before && began && began.length >= FEWEST_IN_COLUMN) {
    const was = medianInPlace(began);
    const growth = medianInPlace(
      knownOf(
        values.map((value, i) => ((earlier?.[i] ?? NaN) > 0 ? value / (earlier?.[i] ?? NaN) : NaN)),
      ),
    );
    const readable = was >= 10 * 10 ** -before.measurement.decimals;
    if (growth < 1 || (growth > MOST_GROWTH && readable)) return off(was, 'before', growth);
  }
  return found < FEWEST_STEPS * step ? off(step, 'decimals', 1) : null;
}

/** The trays that are off from those with the same treatments. */
export function mixedTrays(source: ColumnSource): UnitMix[] {
  const { measurement, pots, treatmentOf } = source;
  const values = positive(source);
  if (!values) return [];
  const logs = logsOf(values);
  const trays = trayGroups(pots);
  const { one } = grouped(logs, trays);
  const middled = trays.names.flatMap((trayId, g) =>
    one(g).length < FEWEST_IN_TRAY ? [] : [{ trayId, own: medianInPlace(one(g)) }],
  );
  if (middled.length < 2) return [];
  const all = ascending(middled.map(({ own }) => own));
  // Of most columns no tray is off from the others, whatever stands in it.
  if (middled.every(({ own }) => Math.abs(own - medianWithout(all, own)) < SIDE)) return [];
  const treatmentIn = (i: number) => treatmentOf?.get(pots[i]?.id ?? '') ?? '';
  const log = (i: number) => logs[i] ?? NaN;
  const byTray = groupBy([...logs.keys()], (i) => trays.names[trays.of[i] ?? 0] ?? '');
  const cells = middled.map(({ trayId, own }) => {
    const list = (byTray.get(trayId) ?? []).filter((i) => !Number.isNaN(log(i)));
    const byTreatment = [...groupBy(list, treatmentIn)].map(
      ([treatment, some]) => [treatment, middle(some.map(log))] as const,
    );
    return { trayId, own, list, byTreatment };
  });
  const middles = new Map<string, Float64Array>();
  for (const [treatment, list] of groupBy(
    cells.flatMap(({ byTreatment }) => byTreatment),
    ([name]) => name,
  )) {
    middles.set(treatment, ascending(list.map(([, m]) => m)));
  }
  const mixed = cells.flatMap(({ trayId, list, own, byTreatment }) => {
    const fromAll = own - medianWithout(all, own);
    const shared = byTreatment.flatMap(([treatment, m]) => {
      const others = middles.get(treatment);
      return others && others.length > 1 ? [m - medianWithout(others, m)] : [];
    });
    const by = shared.length > 0 ? middle(shared) : fromAll;
    const least = shared.length > 0 ? HARDLY : SURELY;
    if (Math.abs(by) < least || fromAll * Math.sign(by) < SIDE) return [];
    const alike = list.filter((i) => (log(i) - own) * Math.sign(by) > -Math.abs(by) / 2);
    return alike.length < ALIKE * list.length ? [] : [{ trayId, by, own }];
  });
  const groups = [
    ...groupBy(mixed, ({ by }) => unitsApart(measurement, Math.exp(by)) ?? '').values(),
  ];
  return groups.map((group) => {
    // Where one tray is off, the other may seem to be: the fewer are asked about, of as many those
    // with more.
    const [more, less] = [group.filter(({ by }) => by > 0), group.filter(({ by }) => by < 0)];
    const list = less.length > 0 && (more.length === 0 || less.length < more.length) ? less : more;
    const found = middle(list.map(({ own }) => own));
    const by = middle(list.map((tray) => tray.by));
    return {
      measurement,
      trayIds: list.map(({ trayId }) => trayId),
      found: Math.exp(found),
      against: Math.exp(found - by),
      by: 'trays',
      units: unitsApart(measurement, Math.exp(by)),
    };
  });
}

/** The units that are as far apart as a factor, either way; null: none. */
function unitsApart({ kind }: Measurement, factor: number): string | null {
  const by = Math.abs(Math.log(factor));
  const away = ([known]: readonly [number, string]) => Math.abs(by - Math.log(known));
  const [nearest] = [...APART[kind]].sort((a, b) => away(a) - away(b));
  return nearest && away(nearest) < NEAR ? nearest[1] : null;
}

const ascending = (values: readonly number[]) => Float64Array.from(values).sort();
const middle = (values: readonly number[]) => medianOfSorted(ascending(values));

function groupBy<T>(list: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of list) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

import type { Lamp, LampKind, Shelf } from '../../../shared-types/rack';

/**
 * Share of its light as new that a lamp still gives after so many burnt hours: (1 − s)^(h/1000), s
 * lost in 1,000 h. It is the exponential law by which IES TM-21 projects LED maintenance.
 */
export function keptShare({ lossPer1000h = 0 }: Pick<LampKind, 'lossPer1000h'>, hours: number) {
  return (1 - lossPer1000h) ** (hours / 1000);
}

/** The shelf once its lamps have burnt for more hours; the same shelf where none of them ages. */
export function wornShelf<S extends Shelf>(
  shelf: S,
  lampKinds: readonly LampKind[],
  hoursOf: (lamp: Lamp) => number,
): S {
  const ageing = new Set(
    lampKinds.flatMap(({ id, lossPer1000h = 0 }) => (lossPer1000h > 0 ? [id] : [])),
  );
  if (!shelf.lamps.some((lamp) => ageing.has(lamp.kindId) && hoursOf(lamp) > 0)) return shelf;
  return {
    ...shelf,
    lamps: shelf.lamps.map((lamp) => ({
      ...lamp,
      burntHours: (lamp.burntHours ?? 0) + hoursOf(lamp),
    })),
  };
}

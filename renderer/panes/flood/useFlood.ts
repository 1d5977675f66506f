import { useMemo } from 'react';
import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import { floodOf, type FloodFigures, type ZoneFlood } from '../../derive';
import { trayCode } from '../../engine/geometry';
import { useAsShown, usePlanStore, useSession } from '../../store';

export interface Flood {
  plan: Plan;
  flood: FloodPlan;
  figures: FloodFigures;
}

/**
 * The open plan with its flooding, and its figures on the rack as it is shown; null while there is
 * none.
 */
export function useFlood(): Flood | null {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  const shown = useAsShown(plan);
  return useMemo(() => {
    const figures = shown ? floodOf(shown) : null;
    return plan?.flood && figures ? { plan, flood: plan.flood, figures } : null;
  }, [plan, shown]);
}

/** The zone that is worked on: the one selected, that of the selected tray or pot, else the first. */
export function useChosenZone({
  flood,
  figures,
}: Flood): { zone: FloodZone; found: ZoneFlood } | null {
  const selection = useSession((s) => s.selection);
  const trayId = chosenTrayId(selection);
  const zoneId = selection.find((ref) => ref.startsWith('zone:'))?.slice(5);
  const zone =
    flood.zones.find((z) => z.id === zoneId) ??
    flood.zones.find((z) => trayId !== null && z.trayIds.includes(trayId)) ??
    flood.zones[0];
  const found = figures.zones.find((z) => z.zone.id === zone?.id);
  return zone && found ? { zone, found } : null;
}

/** The tray that is selected, or in which the selected pot stands. */
export function chosenTrayId(selection: readonly string[]): string | null {
  for (const ref of selection) {
    const [kind, id] = ref.split(':');
    if ((kind === 'tray' || kind === 'pot') && id) return id;
  }
  return null;
}

/** Every tray of the rack with its code. */
export function traysOf(plan: Plan): { id: string; label: string }[] {
  return plan.rack.shelves.flatMap((shelf) =>
    shelf.trays.map((tray) => ({ id: tray.id, label: trayCode(shelf.number, tray.letter) })),
  );
}

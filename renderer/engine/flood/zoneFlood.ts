import type { FloodPlan, FloodZone } from '../../../shared-types/flood';
import type { TrayVessel } from './tray/basin';
import type { Course } from './tray/course';
import { marginOf, type Margin } from './tray/margin';
import type { Filling } from './pool';
import { emptiedAfterS, litresIn, pipeL, usableL, type WaterTaken } from './reservoir';
import { pumpRuns, runningSeconds, type PumpRun } from './schedule';
import { supplyOf, type Supply } from './supply';
import { firstFlood, trayFlood, type Share, type TrayFlood } from './tray/trayFlood';
import { zoneDay, type Day, type ZoneDay } from './zoneDay';

/** A reservoir holds a fifth more than the sum of what is drawn from it (habit of the trade). */
export const RESERVOIR_MARGIN = 1.2;

/** All that is reckoned about one zone. Volumes in L. */
export interface ZoneFlood {
  zone: FloodZone;
  supply: Supply;
  trays: TrayFlood[];
  runs: readonly PumpRun[];
  /** While the pump runs and the reservoir is empty, on the day before it is topped up. */
  dry: readonly PumpRun[];
  /** What is asked of the reservoir at once: all trays at their highest level from dry media, and the pipe. */
  drawL: number;
  /** Estimated loss between two top-ups: uptake by the plants, and evaporation. */
  uptakeL: number;
  evaporationL: number;
  /** Over the rims of its trays between two top-ups. */
  spilledL: number;
  /** What the reservoir must hold, without and with the margin. */
  neededL: number;
  leastReservoirL: number;
  /** Of what the reservoir holds after all that is needed, L. */
  margin: Margin;
  pumpHoursPerDay: number;
  kwhPerDay: number;
}

/** What must be in a reservoir, L: all that is out at once, all that is used up, and its heel. */
export function neededReservoirL(drawL: number, usedL: number, deadVolumeL: number): number {
  return drawL + usedL + deadVolumeL;
}

export function zoneFlood(
  flood: FloodPlan,
  zone: FloodZone,
  vessels: readonly TrayVessel[],
): ZoneFlood {
  const supply = supplyOf(zone, vessels);
  const runs = pumpRuns(zone.schedule);
  const fillings = vessels.map((vessel): Filling => ({
    work: { zone, basin: vessel.later, inflowLMin: supply.inflowLMin.get(vessel.tray.id) ?? 0 },
    first: vessel.first,
  }));
  const floods = fillings.map(firstFlood);
  const emptiedS = emptiedAfterS(
    floods.map((course, i) => takenBy(course, fillings[i])),
    usableL(zone),
  );
  const ample = zoneDay(fillings, runs, Infinity);
  const traysOn = (day: ZoneDay) =>
    vessels.map((vessel, i) => {
      const share: Share = {
        liftM: supply.liftM.get(vessel.tray.id) ?? 0,
        inflowLMin: supply.inflowLMin.get(vessel.tray.id) ?? 0,
        firstFlood: floods[i] ?? null,
        emptiedS,
        day: dayAt(day, i),
        ample: dayAt(ample, i),
      };
      return trayFlood(flood, zone, vessel, share, runs);
    });
  const asked = traysOn(ample);
  const demand = demandOf(flood, zone, asked);
  // The day before a top-up, when all that is used up is gone.
  const lasts = zone.reservoirL >= demand.neededL;
  const leftL = usableL(zone) - demand.uptakeL - demand.evaporationL;
  const day = lasts ? ample : zoneDay(fillings, runs, leftL);
  const pumpHoursPerDay = runningSeconds(runs) / 3600;
  return {
    zone,
    supply,
    trays: lasts ? asked : traysOn(day),
    runs,
    dry: day.dry,
    ...demand,
    leastReservoirL: RESERVOIR_MARGIN * demand.neededL,
    margin: marginOf(zone.reservoirL, demand.neededL),
    pumpHoursPerDay,
    kwhPerDay: (zone.pump.powerW * pumpHoursPerDay) / 1000,
  };
}

/** What trays that fill as their schedule asks take from the reservoir until it is topped up. */
function demandOf(
  { use }: FloodPlan,
  zone: FloodZone,
  trays: readonly TrayFlood[],
): Pick<ZoneFlood, 'drawL' | 'uptakeL' | 'evaporationL' | 'spilledL' | 'neededL'> {
  const { uptakeMlPerPotDay, evaporationMmDay, topUpDays } = use;
  const pots = trays.reduce((sum, t) => sum + t.vessel.pots.length, 0);
  const uptakeL = (pots * uptakeMlPerPotDay * topUpDays) / 1000;
  const evaporationL = trays.reduce(
    (sum, t) => sum + openAreaM2(t.vessel) * evaporationMmDay * t.wetTime * topUpDays,
    0,
  );
  const inTrays = trays.reduce((sum, t) => {
    if (t.inflowLMin <= 0) return sum;
    const { first } = t.vessel;
    return sum + first.volumeL(Math.min(first.rimMm, t.peakMm));
  }, 0);
  const drawL = inTrays + (inTrays > 0 ? pipeL(zone) : 0);
  const spilledL = topUpDays * trays.reduce((sum, t) => sum + t.spilledL, 0);
  const neededL = neededReservoirL(drawL, uptakeL + evaporationL + spilledL, zone.deadVolumeL);
  return { drawL, uptakeL, evaporationL, spilledL, neededL };
}

const dayAt = ({ trays }: ZoneDay, i: number): Day =>
  trays[i] ?? { points: [], atStartMm: [], runPeaksMm: [], spilledL: 0 };

/** Litres out of the reservoir over the first flood of a tray; then it is full and takes no more. */
function takenBy(flood: Course | null, filling: Filling | undefined): WaterTaken {
  const litres = filling && litresIn(filling.first);
  return (flood?.points ?? []).map(({ seconds, depthMm }) => ({
    seconds,
    litres: litres?.(depthMm) ?? 0,
  }));
}

function openAreaM2({ tray, pots }: TrayVessel): number {
  const covered = pots.reduce((sum, pot) => sum + (Math.PI / 4) * pot.diameterMm ** 2, 0);
  return Math.max(0, tray.widthMm * tray.depthMm - covered) / 1e6;
}

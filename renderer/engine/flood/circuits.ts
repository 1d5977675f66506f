import type { Circuit, FloodPlan } from '../../../shared-types/flood';
import type { Rack } from '../../../shared-types/rack';
import { powerOfLamps } from '../lamps';
import { marginOf, type Margin } from './tray/margin';

/**
 * Share of a breaker that loads of three hours or more may take, by the usual caution (United
 * States: NFPA 70, 125 % of continuous loads, as electrical-trade pages quote it).
 */
export const CONTINUOUS_SHARE = 0.8;

/** Everything that is connected to one circuit, at full power whether it runs or not. */
export interface CircuitLoad {
  circuit: Circuit;
  lampsW: number;
  pumpsW: number;
  totalW: number;
  /** I = P / (V · power factor). */
  currentA: number;
  continuousA: number;
  shareOfBreaker: number;
  /** Of the usual limit for continuous loads, A. */
  margin: Margin;
}

export function circuitLoad(flood: FloodPlan, rack: Rack, circuit: Circuit): CircuitLoad {
  const lamps = rack.shelves
    .filter((shelf) => circuit.shelfIds.includes(shelf.id))
    .flatMap((shelf) => shelf.lamps);
  const lampsW = powerOfLamps(rack, lamps, true);
  const pumpsW = flood.zones
    .filter((zone) => circuit.zoneIds.includes(zone.id))
    .reduce((sum, zone) => sum + zone.pump.powerW, 0);
  const totalW = lampsW + pumpsW + circuit.otherW;
  const currentA = totalW / (circuit.voltageV * circuit.powerFactor);
  const continuousA = CONTINUOUS_SHARE * circuit.breakerA;
  return {
    circuit,
    lampsW,
    pumpsW,
    totalW,
    currentA,
    continuousA,
    shareOfBreaker: currentA / circuit.breakerA,
    margin: marginOf(continuousA, currentA),
  };
}

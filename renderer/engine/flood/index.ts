export * from './cautions';
export { CONTINUOUS_SHARE, type CircuitLoad } from './circuits';
export { depthAt, meanOver } from './working';
export type { CoursePoint } from './tray/course';
export * from './flood';
export type { Margin } from './tray/margin';
export { loadCases, loadCaseWords, type LoadCase, type ShelfLoad } from './load';
export { floodMends, zonePatchOf, type FloodMend, type MendStep } from './mends/mends';
export { staggered } from './mends/stagger';
export { floodNotices } from './notices';
export {
  potLitres,
  pottedPots,
  type PottedFlood,
  type PottedPot,
  type Potting,
} from './tray/potted';
export { DAY_S, pumpRuns, withinDay, type PumpRun } from './schedule';
export type { SiphonFigures } from './tray/siphonFigures';
export type { TrayFlood } from './tray/trayFlood';
export * from './verdicts/verdicts';
export { zoneSummary } from './verdicts/zoneSummary';
export { needsAndGets } from './words';
export { RESERVOIR_MARGIN, type ZoneFlood } from './zoneFlood';

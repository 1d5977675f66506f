export {
  fittedRelativeGrowthRate,
  groupRelativeGrowthRate,
  meanRelativeGrowthRate,
  type GroupRate,
} from './group';
export { leafAreaRatio, netAssimilationRate, phyllochronDays, plastochronIndex } from './leaves';
export {
  absoluteGrowthRate,
  doublingTimeDays,
  gain,
  percentGain,
  relativeGrowthRate,
  type Growth,
} from './rates';

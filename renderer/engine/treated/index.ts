export {
  carriedLevels,
  carrierOf,
  settingsAt,
  type CarriedLevels,
  type TreatedView,
} from './levels';
export { hasSettings, rackAsTreated, type RackAsTreated, type TreatedFrom } from './treated';
export { treatedNotices } from './notices';
export { settingsWords } from './words';
export { setupList, type SetupLine, type SetupList } from './setupList';

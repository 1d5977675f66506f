export { carriedLevels, type CarriedLevels, type TreatedView } from './levels';
export { hasSettings, rackAsTreated, type RackAsTreated, type TreatedFrom } from './treated';
export { treatedNotices } from './notices';

export { RackInspector } from './RackInspector';
export { RackToolbar } from './RackToolbar';
export { ViewSwitch } from './ViewSwitch';

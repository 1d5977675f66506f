export { LIT_SHARE } from './daily';
export type { LogUse } from './logHeads';
export type { LogFigure, LogQuestion, NamedUnit } from './logQuestions';
export type { LogLeftOut } from './logReadings';
export type { LogColumn, LogSaid } from './logShape';
export { keptOfLog, matchLog } from './matchLog';
export type { LogPreview } from './matchLog';
export { measureSigns } from './measureSigns';
export { plainUnit } from './unitNames';

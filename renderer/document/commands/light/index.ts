export * from './addReadings';
export * from './arrangeLamps';
export * from './editLight';
export * from './editReading';
export * from './keepReadings';
export * from './placeInRota';
export * from './removeReadings';
export * from './setRota';

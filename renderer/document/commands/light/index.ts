export * from './addReadings';
export * from './editLight';
export * from './editReading';
export * from './removeReadings';

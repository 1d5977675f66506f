export * from './addLamp';
export * from './addLampKind';
export * from './editLampKind';
export * from './editLamps';
export * from './partLamps';
export * from './removeLampKind';
export * from './restateOutput';
export * from './setLeadEnd';

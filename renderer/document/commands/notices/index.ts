export * from './acceptNotice';
export * from './withdrawAcceptance';

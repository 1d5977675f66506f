export * from './addIncident';
export * from './editIncident';
export * from './enterValues';
export * from './importValues';
export * from './markPots';
export * from './removeIncident';

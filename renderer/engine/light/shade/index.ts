export * from './ownHeight';
export type { Stand } from './stands';

export * from './arrange';
export type { Arrangement } from './arrangement';
export * from './attainable';
export type { ArrangeLimits, ArrangeRequest } from './request';

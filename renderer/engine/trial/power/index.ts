export { power } from './power';
export { criticalF, detectableNoncentrality, powerOfTerm, type TermInStratum } from './term';

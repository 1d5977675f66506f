export { compareMeans } from './compare';
export { adjustFamily, holm } from './adjust';
export type { ComparisonMethod } from './adjust';
export { compactLetters } from './letters';
export { plannedContrast } from './planned';
export { orthogonalPolynomials } from './polynomial';

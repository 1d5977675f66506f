export type { Candela, Symmetry } from './distribution';
export type { PhotometryRefusal } from './numbers';
export * from './read';

export { boxCoxProfile, type BoxCoxProfile } from './box-cox';
export { influence, type Influence } from './influence';
export { moran, moranOfModel, type Moran, type MoranInput } from './moran';
export { shapiroWilk, type ShapiroWilk } from './shapiro-wilk';
export { bartlett, brownForsythe, levene, type SpreadTest } from './spread';

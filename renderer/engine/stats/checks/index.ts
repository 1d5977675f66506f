export { boxCoxProfile, type BoxCoxProfile } from './boxCox';
export { influence, type Influence } from './influence';
export { moran, moranOfModel, type Moran, type MoranInput } from './moran';
export { shapiroWilk, type ShapiroWilk } from './shapiroWilk';
export { bartlett, brownForsythe, levene, type SpreadTest } from './spread';

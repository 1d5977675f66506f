// What the checks of printed pages need, in one module that can be bundled.
export { defaultOptions, labelPresets, printables, printed } from '../../../renderer/print';
export { trialPots } from '../../../renderer/print/shown';
export { awkwardPlans } from './awkwardPlans';
export { readMatrix, readQr } from './decoders';

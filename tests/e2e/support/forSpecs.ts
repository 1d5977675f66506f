// What the specs take from the program and from builders of plans, in one module to be bundled.
export { uniformityCsv, uniformityPlan } from '../../../build/examples/uniformity';
export { createShellApi } from '../../../electron/services/handlers';
export { answer } from '../../../electron/services/ipc';
export { OpenFiles } from '../../../electron/services/openFiles';
export { withPolicy } from '../../../electron/services/printWindow';
export { Recents } from '../../../electron/services/recents';
export { Recovery } from '../../../electron/services/recovery';
export { serveRenderer } from '../../../electron/serve';
export { readPlan, sayProblem, writePlan } from '../../../renderer/document/open';
export { potsToMeasure } from '../../../renderer/document/queries';
export { defaultOptions, labelPresets, printables, printed } from '../../../renderer/print';
export { trialPots } from '../../../renderer/print/shown';
export { channelNames } from '../../../shared-types/ipcNames';
export { example, undrawn } from '../../builders/examplePlans';
export { drawnPlan } from '../../builders/samplePlan';
export { smallBasil } from '../../builders/smallBasil';
export { awkwardPlans } from '../../print/support/awkwardPlans';
export { readMatrix, readQr } from '../../print/support/decoders';

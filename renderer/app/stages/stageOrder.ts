import type { Stage } from '../../../shared-types/notice';

/** The stages in the order of the job. */
export const stageOrder: readonly { stage: Stage; label: string }[] = [
  { stage: 'rack', label: 'Rack' },
  { stage: 'light', label: 'Light' },
  { stage: 'flood', label: 'Flood' },
  { stage: 'trial', label: 'Trial' },
  { stage: 'layout', label: 'Layout' },
  { stage: 'chart', label: 'Charts' },
  { stage: 'records', label: 'Records' },
  { stage: 'findings', label: 'Findings' },
];

export const labelOf = (stage: Stage): string =>
  stageOrder.find((one) => one.stage === stage)?.label ?? stage;

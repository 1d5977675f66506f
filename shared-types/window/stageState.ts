/** How a stage of the job stands, from what is still to be done to what nothing can be built on. */
export const stageStateNames = ['todo', 'fine', 'look', 'stuck'] as const;
export type StageStateName = (typeof stageStateNames)[number];

export const stageStateLabels: Record<StageStateName, string> = {
  todo: 'to do',
  fine: 'fine',
  look: 'look here',
  stuck: 'cannot work',
};

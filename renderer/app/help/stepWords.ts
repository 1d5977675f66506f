import type { Stage } from '../../../shared-types/notice';

/** A first trial, from the empty rack to the answer: what to do, and where. */
export const steps: readonly { stage: Stage; does: string }[] = [
  { stage: 'rack', does: 'Draw your shelves, trays and lamps where they stand in the room.' },
  {
    stage: 'rack',
    does: 'Give a tray its pots: how many rows and columns. Copy it to the others.',
  },
  { stage: 'light', does: 'Look for dim corners. Read a meter at a few pots if you have one.' },
  {
    stage: 'flood',
    does: 'Name the reservoir and pump, and see whether every tray fills and drains.',
  },
  { stage: 'trial', does: 'Say what is compared, and what it is applied through.' },
  { stage: 'trial', does: 'Read “Can this trial answer?”, and take a way out where it cannot.' },
  { stage: 'layout', does: 'Draw: chance gives every pot its treatment. Mark it as planted.' },
  { stage: 'chart', does: 'Print the charts, labels and sheets, and take them to the rack.' },
  {
    stage: 'records',
    does: 'Type weights and counts in walking order. Write down what went wrong.',
  },
  { stage: 'findings', does: 'Read what differed, by how much, and how sure that is.' },
];

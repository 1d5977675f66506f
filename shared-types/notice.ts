import { z } from 'zod';

export const stageSchema = z.enum([
  'rack',
  'light',
  'flood',
  'trial',
  'layout',
  'chart',
  'records',
  'findings',
]);
export type Stage = z.infer<typeof stageSchema>;

export const noticeKinds = {
  rack: [
    'outside-shelf',
    'trays-overlap',
    'pots-overlap',
    'pot-outside-tray',
    'lamp-outside-bay',
    'lamp-crosses-board',
    'board-meets-tray',
    'pot-under-board',
    'canopy-reaches-lamp',
    'duplicate-code',
    'shelves-overlap',
  ],
  light: [
    'light-uneven',
    'light-leaks',
    'neighbours-shade',
    'light-corrected',
    'light-too-low',
    'light-too-high',
    'efficacy-implausible',
    'photoperiod-implausible',
    'reading-outlier',
    'reading-implausible',
    'no-readings',
    'readings-outdated',
    'readings-off-estimate',
    'lamp-file-broken',
    'lamp-lumens-disagree',
    'light-not-computable',
    'rota-does-not-fit',
  ],
  flood: [
    'overtops',
    'too-shallow',
    'leaf-line-wet',
    'roots-too-wet',
    'pot-rim-wet',
    'root-zone-over-pot',
    'never-fills',
    'never-drains',
    'siphon-may-not-start',
    'siphon-may-not-break',
    'reservoir-too-small',
    'pump-below-head',
    'shelf-overloaded',
    'circuit-overloaded',
    'tray-not-level',
  ],
  trial: [
    'factor-not-replicated',
    'carrier-shared',
    'treatment-not-applied',
    'factors-confounded',
    'treatment-confounded-with-light',
    'unit-too-few-df',
    'scheme-does-not-fit',
    'block-too-small',
    'unequal-replication',
    'low-power',
    'too-few-pots',
    'edge-share-unequal',
    'start-size-unbalanced',
    'alpha-unusual',
  ],
  layout: ['layout-missing', 'layout-stale', 'layout-altered', 'planted-before-draw', 'many-swaps'],
  chart: [],
  records: [
    'value-out-of-range',
    'value-suspicious',
    'record-missing',
    'unknown-pot',
    'dead-uneven',
    'double-entry-differs',
    'units-mixed',
    'block-pasted-twice',
    'values-shifted',
    'dates-implausible',
    'harvest-spread',
    'delivered-off-setting',
    'delivered-uneven',
  ],
  findings: [
    'residuals-patterned',
    'spread-unequal',
    'influential-pot',
    'position-changes-answer',
    'saturated',
    'rule-fixed-late',
    'question-not-answerable',
    'unit-smaller-than-treated',
    'unit-variance-zero',
  ],
} as const satisfies Record<Stage, readonly string[]>;

export type NoticeKind = (typeof noticeKinds)[Stage][number];
export type Severity = 'stop' | 'warn' | 'note';

/** What one command does about a notice; the commands stand in `derive/remedies`. */
export type Mend = 'set-rack-by-levels' | 'shuffle' | 'apply-through-lamps';

/** What a stage finds wrong or doubtful. Always derived, never stored. */
export interface Notice {
  kind: NoticeKind;
  severity: Severity;
  stage: Stage;
  /** What it is about: `shelf:s1`, `tray:t2`, `pot:t2:1:3`, `lamp:l4`, `factor:f5`, `plan`… */
  about: string[];
  /** What and why, with the figures. */
  text: string;
  /** What to do about it. */
  remedy: string;
  /** Where one command does what the remedy says. */
  mend?: Mend;
  /** The person's reason for accepting it, if any. */
  accepted?: string;
}

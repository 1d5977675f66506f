import type { FitRequest } from '../../../../shared-types/fit';

export type FitScale = FitRequest['scale'];

interface ScaleRule {
  /** The values it is defined on, in words. */
  domain: string;
  accepts: (value: number) => boolean;
  apply: (value: number) => number;
  undo: (value: number) => number;
  words: string;
}

/** The scales a response can be analysed on. */
export const scaleRules: Record<FitScale, ScaleRule> = {
  identity: {
    domain: 'any number',
    accepts: () => true,
    apply: (value) => value,
    undo: (value) => value,
    words: 'as measured',
  },
  log: {
    domain: 'a number above 0',
    accepts: (value) => value > 0,
    apply: Math.log,
    undo: Math.exp,
    words: 'on the natural log scale',
  },
  log1p: {
    domain: 'a number above -1',
    accepts: (value) => value > -1,
    apply: Math.log1p,
    undo: Math.expm1,
    words: 'as log(1 + value)',
  },
  sqrt: {
    domain: 'a number not below 0',
    accepts: (value) => value >= 0,
    apply: Math.sqrt,
    // A mean below zero stands for no square root; its nearest possible value is 0.
    undo: (value) => Math.max(value, 0) ** 2,
    words: 'on the square root scale',
  },
};

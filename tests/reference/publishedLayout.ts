import { emptyPlan } from '../../renderer/document/new';
import { findingsOf } from '../../renderer/engine/findings';
import type { FitResult } from '../../shared-types/fit';
import type { Layout } from '../../shared-types/layout';
import type { Rack } from '../../shared-types/rack';
import type { Trial } from '../../shared-types/trial/trial';
import type { PositionModel } from '../../shared-types/trial/position';
import { drawn } from '../builders/trialInput';

/**
 * The findings of a published layout, its values of measurement `m1` by pot id, under one position
 * model.
 */
export function analysisOf(
  rack: Rack,
  trial: Trial,
  assignments: Layout['assignments'],
  values: Record<string, number>,
  model: PositionModel = 'none',
): FitResult {
  const outcome = findingsOf({
    rack,
    zones: [],
    trial,
    layout: {
      scheme: trial.scheme,
      seed: 'published',
      ...drawn,
      drawnFrom: '',
      candidates: 1,
      assignments,
      swaps: [],
      plantedAt: null,
    },
    records: { ...emptyPlan('none').records, values: { m1: values } },
    ppfdByPot: new Map(),
    blockByPot: new Map(),
  });
  if (!outcome.ok) throw new Error(outcome.missing);
  const found = outcome.findings.positions.find((position) => position.model === model);
  if (!found) throw new Error(`an analysis under ${model} is expected`);
  return found.result;
}

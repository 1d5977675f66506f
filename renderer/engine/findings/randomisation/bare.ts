import type { FitRequest } from '../../../../shared-types/fit';
import { type DesignModel } from '../model/designModel';
import { requestFor } from '../model/request';
import { isCounts, type ResponseScale } from '../model/scale';

/**
 * What a randomisation test by least squares is asked for: the terms alone, with `blocks` fixed
 * beside those of the design. Place within units says nothing about what was drawn over them.
 */
export function bareRequest(
  design: DesignModel,
  options: { edgeVaries: boolean; scale: ResponseScale },
  blocks: readonly string[],
): FitRequest {
  const request = requestFor(design, 'none', {
    ...options,
    confidence: 0.95,
    // Square roots stand in for counts: any statistic keeps the test valid.
    scale: isCounts(options.scale) ? 'sqrt' : options.scale,
  });
  return {
    ...request,
    fixedBlocks: [...new Set([...request.fixedBlocks, ...blocks])],
    randomUnits: [],
    tests: 'marginal',
    means: [],
    compare: [],
    contrasts: [],
    checks: [],
  };
}

import type { FitRequest } from '../../../../shared-types/fit';

/** The columns of a request that name groups, whatever their cells look like. */
export function categoryColumns(request: FitRequest): Set<string> {
  return new Set([
    ...request.treatments,
    ...request.fixedBlocks,
    ...request.randomUnits.flat(),
    ...(request.position?.within ?? []),
    ...(request.moran?.within ?? []),
    ...(request.redraw?.within ?? []),
    ...(request.redraw?.unit ?? []),
  ]);
}

import { placeTraits, type DataTable, type FitRequest } from '../../../../shared-types/fit';
import type { Design } from '../design';
import type { Analysis } from './analysis';
import { analyseConstant, isConstant } from './constant';
import { analyseCounts } from './countsModel';
import { analyseStrata } from './errorStrata';
import { analyseLinear } from './linearModel';
import { analyseMixed } from './mixedModel';
import { analyseUnits, withPosition } from './unitsModel';
import { Refusal } from '../../../words';

/** Chooses the kind of model that the request asks for. */
export function analyse(request: FitRequest, table: DataTable, design: Design): Analysis {
  const covarying = request.position !== null && !placeTraits[request.position.model].isFixed;
  if (request.offset !== null && request.counts === null) {
    throw new Refusal(
      `offset: found "${request.offset}" without counts; an exposure belongs to counts, expected ` +
        'counts, or the response divided by it',
    );
  }
  if (isConstant(design) && request.offset === null) return analyseConstant(request, design);
  if (request.counts !== null) {
    if (covarying) {
      throw new Refusal(
        `position: found ${request.position?.model ?? ''} beside counts; expected edge or linear ` +
          '(or the scale log1p or sqrt, which takes every position model)',
      );
    }
    return analyseCounts(request, request.counts, table, design);
  }
  if (request.exactStrata) return analyseStrata(request, table, design);
  if (request.denominator === 'units' && request.randomUnits.length > 0) {
    const byUnits = analyseUnits(request, table, design);
    return covarying ? withPosition(request, table, byUnits) : byUnits;
  }
  if (covarying || request.randomUnits.length > 0) return analyseMixed(request, table, design);
  return analyseLinear(request, design);
}

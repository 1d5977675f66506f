import type { FitRequest } from '../../../../shared-types/fit';
import type { Design } from '../design';
import type { Qr } from '../linear';
import { scaleRules } from '../table';
import { list } from '../../../words';

/** The response with its scale, and the fixed part it is modelled by. */
export function modelWords(request: FitRequest, design: Design): string {
  const scale = request.scale === 'identity' ? '' : ` ${scaleRules[request.scale].words}`;
  const terms = design.terms.map((term) => term.name);
  return `${request.response}${scale} by ${terms.length > 0 ? list(terms) : 'its mean alone'}`;
}

const orderWords: Record<FitRequest['tests'], string> = {
  sequential: 'Each term is tested after the ones before it.',
  adjusted: 'Each term is tested adjusted for all terms that do not contain it.',
  marginal:
    'Each term is tested adjusted for all other terms, its factors coded to add to zero over ' +
    'their levels.',
};

export function testWords(request: FitRequest, design: Design): string[] {
  return design.terms.length > 0 ? [orderWords[request.tests]] : [];
}

export function meansWords(request: FitRequest, design: Design): string[] {
  if (request.means.length + request.compare.length === 0) return [];
  const at = design.covariates.size > 0 ? ', covariates at their mean' : '';
  return [`Adjusted means weigh the levels of the other factors equally${at}.`];
}

export function aliasWarnings(design: Design, qr: Qr): string[] {
  if (qr.aliased.length === 0) return [];
  const names = qr.aliased.map((j) => design.columnNames[j] ?? '');
  return [`Not estimable, because other columns of the model say the same: ${list(names)}.`];
}

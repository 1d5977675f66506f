import { unitWords } from '../../../../shared-types/trial/trial';
import { capital, list, saidP } from '../../../words';
import type { Findings } from '../findings';
import type { Statement } from './statement';

/** Runs taken together, and whether the factors did the same in each. */
export function runStatements({ runs, alpha, roles }: Findings): Statement[] {
  if (!runs) return [];
  const { names, swapped, tests } = runs;
  const unit = roles.find(({ factor }) => factor.id === swapped)?.unit;
  const allowed = unit ? ` and between ${unitWords[unit].many}` : '';
  const told = tests.map(({ factor, p }) =>
    p === null
      ? `whether ${factor} did the same in each cannot be told`
      : p < alpha
        ? `what ${factor} did differed between them (${saidP(p, alpha)})`
        : `nothing shows that what ${factor} did differed between them (${saidP(p, alpha)})`,
  );
  const text = [
    `${list(names)} are taken together; differences between the runs${allowed} are allowed for.`,
    ...(told.length > 0 ? [`${capital(told.join('; '))}.`] : []),
  ];
  return [{ about: 'pots', text: text.join(' ') }];
}

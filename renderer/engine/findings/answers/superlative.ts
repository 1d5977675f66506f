import type { Findings } from '../findings';
import { inSentence } from '../../../words';
import type { FactorRole } from '../model/roles';

/** What the highest level did: `grew the heaviest plants`, `had the most leaves`. */
export function superlative(findings: Findings, role: FactorRole, shared: boolean): string {
  const { measurement, index } = findings.question;
  const verb = role.factor.kind === 'randomised' ? 'gave' : 'had';
  const name = inSentence(findings.response.name);
  if (index !== 'final') return `${verb} the highest ${name}`;
  const degree = (two: string, many: string) =>
    role.unitsPerLevel.size === 2 && !shared ? two : many;
  switch (measurement.kind) {
    case 'weight':
      return `grew the ${degree('heavier', 'heaviest')} plants`;
    case 'count':
      return `${verb} ${degree('more', 'the most')} ${measurement.unit === '' ? name : measurement.unit}`;
    case 'length':
    case 'score':
    case 'index':
      return `${verb} the ${degree('higher', 'highest')} ${name}`;
  }
}

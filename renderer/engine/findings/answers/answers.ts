import { unitWords } from '../../../../shared-types/trial/trial';
import { asInterval, capital, list } from '../../../words';
import type { Findings } from '../findings';
import { judges, mainComparison } from '../position/sensitivity';
import { controlOf } from '../sizes/planned';
import { onRack, type FactorRole } from '../model/roles';
import { differenceShown, isRatio, saidDifference, saidInterval } from '../model/scale';
import { answeringP } from '../scores';
import { termOf } from '../statements/terms';
import { dependsOn, interactionAnswers } from './interactions';
import { placeAnswer } from './place';
import type { Answer } from './answer';
import { sureOf, type Sure } from './sure';
import { superlative } from './superlative';

/**
 * One answer a question: each factor, what factors do to each other's effect as far as it shows, and
 * the place. No answer says more than the test and the interval that it comes from.
 */
export function answersOf(findings: Findings): Answer[] {
  const { design } = findings;
  return [
    ...design.tested.map((role) => factorAnswer(findings, role)),
    ...design.notReplicated.map((role) => notReplicated(role)),
    ...interactionAnswers(findings),
    ...placeAnswer(findings),
  ];
}

/** A pair of levels, the higher one first. */
interface Pair {
  high: string;
  low: string;
  difference: number;
  lower: number;
  upper: number;
  p: number;
}

function pairsOf(findings: Findings, role: FactorRole): Pair[] {
  const rows = mainComparison(findings.primary.result, role)?.rows ?? [];
  return rows.map(({ a, b, difference, lower, upper, p }) =>
    difference >= 0
      ? { high: a, low: b, difference, lower, upper, p }
      : { high: b, low: a, difference: -difference, lower: -upper, upper: -lower, p },
  );
}

function factorAnswer(findings: Findings, role: FactorRole): Answer {
  const { name } = role.factor;
  const term = termOf(findings.primary.result, [role.column]);
  const base = { of: capital(name), about: 'factor' as const };
  if (!term || term.p === null) {
    return {
      ...base,
      headline: `${capital(name)} could not be tested`,
      figure: '',
      sure: null,
      why: 'Nothing is left to judge it by.',
    };
  }
  const p = answeringP(findings, role) ?? term.p;
  const pairs = pairsOf(findings, role);
  const widest = pairs.reduce<Pair | null>(
    (best, pair) => (best && best.difference >= pair.difference ? best : pair),
    null,
  );
  // A pair that its own interval does not tell apart carries no headline.
  const clear = p < findings.alpha && widest !== null && widest.p < findings.alpha;
  const sure = clear ? 'clear' : p < findings.alpha ? 'leaning' : sureOf(p, findings.alpha);
  return {
    ...base,
    headline: headline(findings, role, pairs, widest, sure),
    figure: widest ? figureOf(findings, widest, clear) : '',
    sure,
    why: [whyOf(findings, role, clear), betweenRuns(findings, role), dependsOn(findings, role)]
      .filter((part) => part !== '')
      .join(' '),
  };
}

function headline(
  findings: Findings,
  role: FactorRole,
  pairs: readonly Pair[],
  widest: Pair | null,
  sure: Sure,
): string {
  const { name } = role.factor;
  if (!widest || sure === 'cannot-tell') return `No clear difference in ${name}`;
  if (sure === 'leaning') return `Perhaps ${widest.high} over ${widest.low}`;
  // Beside a control only pairs with it are compared: none of them says which is best of all.
  if (controlOf(role) !== null) return capital(`${widest.high} above ${widest.low}`);
  // What cannot be told from the highest level shares its place.
  const beside = pairs
    .filter(
      ({ high, low, p }) => p >= findings.alpha && (high === widest.high || low === widest.high),
    )
    .map(({ high, low }) => (high === widest.high ? low : high));
  return capital(
    `${list([widest.high, ...beside])} ${superlative(findings, role, beside.length > 0)}`,
  );
}

function figureOf(findings: Findings, pair: Pair, clear: boolean): string {
  const { high, low, difference, lower, upper } = pair;
  const interval = saidInterval(findings, lower, upper);
  const ratio = isRatio(findings.scale);
  if (!clear) {
    return `It could be anything from ${interval}${ratio ? ' times' : ''}, ${high} against ${low}`;
  }
  if (!ratio) return `${saidDifference(findings, difference, pair)} more than ${low} (${interval})`;
  const shown = (value: number) => differenceShown(findings, value);
  const times = asInterval(shown(lower), shown(upper))(shown(difference));
  return `${times} times ${low} (${interval})`;
}

/** Plants or place: what the shuffle and the corrections for place say. */
function whyOf(findings: Findings, role: FactorRole, clear: boolean): string {
  const over = overUnits(findings, role);
  if (role.factor.kind !== 'randomised') {
    return `${over} Not shuffled: it goes with a difference, which may have other causes.`.trim();
  }
  const ps = findings.positions.flatMap(({ model, result }) => {
    if (!judges(model, role)) return [];
    return termOf(result, [role.column])?.p ?? [];
  });
  const agree = ps.filter((p) => p < findings.alpha === clear).length;
  if (ps.length < 2) return over;
  const place =
    agree < ps.length
      ? `Place may matter: ${agree} of ${ps.length} corrections for place say the same.`
      : clear && role.unit === 'pot'
        ? 'Plants, not place.'
        : '';
  return [over, place].filter((part) => part !== '').join(' ');
}

/** `Drawn over 6 trays.`; empty where single pots were shuffled. */
function overUnits({ runs }: Findings, role: FactorRole): string {
  if (role.unit === 'pot') return '';
  const units = [...role.unitsPerLevel.values()].reduce((sum, n) => sum + n, 0);
  const { many } = unitWords[role.unit];
  const verb = role.factor.kind === 'randomised' ? 'Drawn' : 'Told';
  if (!runs) return `${verb} over ${units} ${many}.`;
  const times = runs.names.length;
  if (role.unitColumn === onRack(role.unit)) {
    return `${verb} over ${units} ${many}, which kept their levels in all ${times} runs.`;
  }
  return role.factor.id === runs.swapped
    ? `Swapped between ${Math.round(units / times)} ${many} in ${times} runs, differences between ${many} and between runs allowed for.`
    : `${verb} over ${units} ${many} in ${times} runs.`;
}

/** Whether the runs agree; empty for one run, and where nothing is left to tell it by. */
function betweenRuns({ runs, alpha }: Findings, role: FactorRole): string {
  const p = runs?.tests.find(({ factor }) => factor === role.column)?.p ?? null;
  if (p === null) return '';
  return p < alpha
    ? 'It differed between the runs.'
    : 'Nothing shows that it differed between the runs.';
}

function notReplicated(role: FactorRole): Answer {
  const { one, many } = unitWords[role.unit];
  return {
    of: capital(role.factor.name),
    about: 'factor',
    headline: `Nothing can be said about ${role.factor.name}`,
    figure: '',
    sure: null,
    why: `Each level stood on one ${one}, so the difference may be that of the ${many}.`,
  };
}

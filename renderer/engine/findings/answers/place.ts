import type { Findings } from '../findings';
import { saidDifference, saidInterval } from '../model/scale';
import { sureOf } from './sure';
import type { Answer } from './answer';

const PER_UMOL = 10;

/** Whether light and edge went with the values, whatever the treatments did; [] where nothing varies. */
export function placeAnswer(findings: Findings): Answer[] {
  const { light, edge } = findings;
  if (!light && !edge) return [];
  // Two looks at place must not cry twice as often as one: Bonferroni.
  const alpha = findings.alpha / (light && edge ? 2 : 1);
  const lit = light !== null && light.p < alpha;
  const edged = edge !== null && edge.p < alpha;
  const lightWords =
    light &&
    `${saidDifference(findings, light.difference * PER_UMOL, scaled(light))} per ${PER_UMOL} µmol m⁻² s⁻¹ (${interval(findings, scaled(light))})`;
  const edgeWords =
    edge &&
    `edge against inside ${saidDifference(findings, edge.difference, edge)} (${interval(findings, edge)})`;
  const more = light && light.difference > 0 ? 'higher' : 'lower';
  const outer = edge && edge.difference > 0 ? 'higher' : 'lower';
  const sure = lit || edged ? 'clear' : sureOf(Math.min(light?.p ?? 1, edge?.p ?? 1), alpha);
  // What is only a leaning is told with what the data still allow.
  const told = (p: number | undefined): boolean =>
    p !== undefined && sureOf(p, alpha) === sure && sure !== 'cannot-tell';
  return [
    {
      of: 'Place',
      about: 'place',
      headline: lit
        ? `Place mattered: more light, ${more} values`
        : edged
          ? `Place mattered: ${outer} values at the edge`
          : sure === 'leaning'
            ? 'Perhaps place mattered'
            : 'No clear sign that place mattered',
      figure: [
        ...(told(light?.p) && lightWords ? [lightWords] : []),
        ...(told(edge?.p) && edgeWords ? [edgeWords] : []),
      ].join('; '),
      sure,
      why: sure === 'cannot-tell' ? '' : allowedFor(findings),
    },
  ];
}

const scaled = ({ lower, upper }: { lower: number; upper: number }) => ({
  lower: lower * PER_UMOL,
  upper: upper * PER_UMOL,
});

const interval = (findings: Findings, of: { lower: number; upper: number }): string =>
  saidInterval(findings, of.lower, of.upper);

function allowedFor({ design, primary }: Findings): string {
  if (design.tested.length === 0) return '';
  return primary.model === 'none'
    ? 'The other answers make no correction for it.'
    : 'The other answers allow for it.';
}

import type { Plan } from '../../../shared-types/plan';
import type { Blocks } from '../../../shared-types/trial/scheme';
import { engineVersion } from '../../derive';
import {
  averagedWords,
  isCounts,
  methodOf,
  POSITION_TERMS,
  positionWords,
  ruleSentence,
  SCALE_WORDS,
  type Findings,
} from '../../engine/findings';
import { schemeWords } from '../../engine/trial';
import { unitWords } from '../../../shared-types/trial/trial';
import { capital, chosenShare, plural, fieldNumber, sayDay } from '../../words';

/** `with each shelf as a block`. */
export function blocksWords(blocks: Blocks): string {
  switch (blocks.by) {
    case 'none':
      return 'without blocks';
    case 'rows':
      return `with blocks of ${blocks.perBlock} rows`;
    case 'columns':
      return `with blocks of ${blocks.perBlock} columns`;
    case 'light':
      return `with ${blocks.bands} blocks along the light`;
    case 'tray-halves':
      return 'with the halves of each tray as blocks';
    case 'tray-quarters':
      return 'with the quarters of each tray as blocks';
    default:
      return `with each ${blocks.by} as a block`;
  }
}

/** How the layout came about, so that it can be drawn again. */
export function layoutWords(plan: Plan): string[] {
  const { trial, layout } = plan;
  if (!trial) return [];
  const factors = trial.factors.map(
    (f) =>
      `${f.name} (${f.levels.map((l) => l.name).join(', ')}) ${f.kind === 'fixed' ? 'is a property of single' : 'was shuffled over'} ${unitWords[f.unit].many}`,
  );
  const said =
    factors.length > 0 ? [`${capital(factors.join('; '))}.`] : ['No treatment was given.'];
  if (!layout) return said;
  const { constraint } = trial;
  const bounds: string[] = [];
  if (constraint.acceptanceShare < 1 && constraint.balance.length > 0) {
    bounds.push(
      `draws were accepted only among the best ${chosenShare(constraint.acceptanceShare)} by balance in ${constraint.balance.join(', ')}`,
    );
  }
  if (constraint.likeNeighbours !== null) {
    bounds.push(`at most ${constraint.likeNeighbours} pots of one treatment stand side by side`);
  }
  const swaps = layout.swaps.length;
  said.push(
    `The layout was drawn ${schemeWords[layout.scheme].drawn}, ${blocksWords(trial.blocks)}${bounds.length > 0 ? `; ${bounds.join('; ')}` : ''}. ` +
      `Seed “${layout.seed}”, drawn ${sayDay(layout.drawnAt)} by version ${layout.engineVersion}` +
      `${layout.plantedAt ? `, planted ${sayDay(layout.plantedAt)}` : ''}` +
      `${swaps > 0 ? `; ${plural(swaps, 'logged exchange')} of pots afterwards` : ''}.`,
  );
  return said;
}

/** What is known of a trial that came as a table. */
export function tableWords({ roles }: Findings): string[] {
  const factors = roles.map(
    ({ factor }) =>
      `${factor.name} (${factor.levels.map((l) => l.name).join(', ')}) ${factor.kind === 'fixed' ? 'is a property of single' : 'was shuffled over'} ${unitWords[factor.unit].many}`,
  );
  const said = factors.length > 0 ? `${capital(factors.join('; '))}.` : 'No treatment was given.';
  return [`${said} The columns of the table were read so; how it was drawn is not known here.`];
}

/** What was computed, so that it can be repeated. */
export function methodWords(findings: Findings): string[] {
  const { model } = findings.primary;
  const { question, design, averaged, plannedModel } = findings;
  const taken = {
    final: findings.scale === null ? 'as measured' : `as ${SCALE_WORDS[findings.scale]}`,
    gain: 'as the gain since the start',
    'relative-growth-rate': `as the difference of its logarithms over ${question.days ?? 0} days`,
  }[question.index];
  const byLayouts = findings.primary.result.comparisons.some(({ randomised }) => randomised)
    ? ' Randomised factors are judged by the largest |t| over layouts in place of those methods.'
    : '';
  return [
    averaged
      ? [
          question.measurement.name + ' was counted.',
          ...averagedWords(averaged, plannedModel),
          methodOf(findings),
        ].join(' ')
      : `${question.measurement.name}, ${taken}, was analysed. ${methodOf(findings)}`,
    ...findings.unused,
    `Correction for place: ${positionWords(findings)[model]} (${POSITION_TERMS[model]}). ${ruleSentence(findings)} Where the model named cannot be fitted, place is not corrected for.`,
    ...(design.tested.length > 0
      ? [
          `Differences between levels are of adjusted means; all pairs after Tukey and Kramer, against a control after Dunnett where one was named; planned comparisons are not adjusted for their number.${byLayouts} Significance level α = ${fieldNumber(findings.alpha)}.`,
        ]
      : []),
    `Deletion residuals and Cook’s distances are from least squares${isCounts(findings.scale) ? ' of the square roots' : ''} with units as fixed blocks; a ${averaged ? 'mean' : 'pot'} is named where its deletion residual has p below ${fieldNumber(0.01)} after adjustment for all pots, or where Cook’s distance passes the median of F.`,
    `Computed by version ${engineVersion}.`,
  ];
}

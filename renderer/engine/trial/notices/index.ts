import type { Layout } from '../../../../shared-types/layout';
import type { RotaPeriod } from '../../../../shared-types/light';
import type { Notice } from '../../../../shared-types/notice';
import { noticesOfStage } from '../../../words';
import { asApplied } from '../applied';
import { lacksLight } from '../blocks';
import type { TrialInput } from '../blocks';
import { drawnSite } from '../drawnFrom';
import { misfitsOf } from '../fit';
import { siteOf } from '../site';
import type { Site } from '../site';
import { overload } from '../treatments';
import { unitsOfSite } from '../units';
import { verifyLayout } from '../verify';
import { carrierNotices } from './carriers';
import { confoundedFactors, confoundedWithLight, levelsAtPots } from './confounding';
import { givenNotices } from './given';
import { gridNotices } from './grid';
import { trialNotice } from '../trialNotice';
import { moveNotices } from './moves';
import { replicationNotices, shareNotices } from './replication';
import { edgeNotices, startSizeNotices } from './unbalance';

const layoutNotice = noticesOfStage('layout');

export interface NoticeInput extends TrialInput {
  layout: Layout | null;
  /** Tray moves during the trial, where there are any. */
  rota?: readonly RotaPeriod[] | undefined;
  /** Whether records stand on the layout, so that another draw is out of the question. */
  recorded?: boolean;
}

/**
 * What is wrong or doubtful about the trial's design, and, once it is drawn, about the balance of
 * its layout, starting values apart (`startNotices`). A trial without factors (all plants treated
 * alike) has nothing to warn about. `drawn`: of `drawnSite`, where it is
 * known already.
 */
export function trialNotices(input: NoticeInput, drawn = drawnSite(input, input.layout)): Notice[] {
  const { trial, layout } = input;
  if (trial.factors.length === 0) return [];
  const tooMany = overload(trial.factors);
  if (tooMany)
    return [trialNotice('scheme-does-not-fit', 'stop', ['plan'], tooMany.text, tooMany.remedy)];
  if (lacksLight(input)) {
    return [
      trialNotice(
        'scheme-does-not-fit',
        'stop',
        ['plan'],
        'The blocks follow the light, but the light is not known at every measured pot.',
        'Hang lamps over every shelf with measured pots, or choose other blocks.',
      ),
    ];
  }
  const site = siteOf(input);
  const { factors } = unitsOfSite(site);
  const { shared } = asApplied(trial, site.pots, drawn && layout);
  const levelsAt = levelsAtPots(site, drawn && layout && levelsOf(layout));
  const replication = replicationNotices(site, factors);
  const misfits = misfitsOf(site).map(({ kind, about, text, remedy }) =>
    trialNotice(kind, 'stop', about, text, remedy),
  );
  return [
    ...carrierNotices(site, shared),
    ...moveNotices(site, levelsAt, input.rota ?? []),
    ...replication,
    ...givenNotices(site, factors),
    ...misfits,
    ...confoundedFactors(site, levelsAt),
    ...confoundedWithLight(site, levelsAt),
    ...(misfits.length === 0 ? shareNotices(site) : []),
    ...(misfits.length === 0 ? gridNotices(trial) : []),
    ...balanceUnknown(site),
    ...(drawn ? edgeNotices(site, levelsAt) : []),
  ];
}

/** Factors of a drawn layout whose levels started with plants of different size. */
export function startNotices(
  { layout, startByPot }: Pick<NoticeInput, 'layout' | 'startByPot'>,
  drawn: Site | null,
): Notice[] {
  if (!layout || !drawn || !startByPot) return [];
  return startSizeNotices({ ...drawn, startByPot }, levelsAtPots(drawn, levelsOf(layout)));
}

const levelsOf = (layout: Layout) => new Map(layout.assignments.map((a) => [a.potId, a.levels]));

/** A draw that is to balance light which is not known leaves it out, and says so. */
function balanceUnknown(site: Site): Notice[] {
  const { acceptanceShare, balance } = site.trial.constraint;
  if (acceptanceShare >= 1 || !balance.includes('light') || site.ppfd) return [];
  return [
    trialNotice(
      'scheme-does-not-fit',
      'warn',
      ['plan'],
      'The draw is to balance the light, but the light is not known at every measured pot; it is left out.',
      'Hang lamps over every shelf with measured pots, or leave light out of the balance.',
    ),
  ];
}

/** Whether the layout is there, still fits the plan (`drawn`), and is what its seed gives. */
export function layoutNotices(
  input: NoticeInput,
  drawn = drawnSite(input, input.layout),
): Notice[] {
  const { trial, layout } = input;
  if (trial.factors.length === 0) return [];
  if (!layout) {
    return [
      layoutNotice(
        'layout-missing',
        'note',
        ['plan'],
        'No layout has been drawn yet.',
        'Draw the layout when the design is settled, before the plants are potted.',
      ),
    ];
  }
  if (!drawn) return [stale(layout, input.recorded ?? false)];
  const { differing, said } = verifyLayout(input, layout, drawn);
  if (differing.length === 0) return [];
  const pots = differing.length === 1 ? '1 pot differs' : `${differing.length} pots differ`;
  return [
    layoutNotice(
      'layout-altered',
      'stop',
      differing.slice(0, 50).map((id) => `pot:${id}`),
      `The layout is not what its seed “${layout.seed}” and its logged exchanges give: ${pots}. ${said.slice(0, 3).join(' ')}${said.length > 3 ? ' And so on.' : ''}`,
      'Log the exchanges that were made at the rack, or restore the drawn layout; a layout changed by hand is not randomised.',
    ),
  ];
}

function stale(layout: Layout, recorded: boolean): Notice {
  if (layout.plantedAt !== null) {
    return layoutNotice(
      'layout-stale',
      'note',
      ['plan'],
      `The plants have stood since ${layout.plantedAt}; what the layout was drawn from has changed since, so it can't be drawn again for checking.`,
      'Analyse the layout as it was drawn; state in the report what changed.',
    );
  }
  const changed =
    'Pots, blocks, factors or the light that the draw used have changed since the layout was drawn';
  return layoutNotice(
    'layout-stale',
    'warn',
    ['plan'],
    `${changed}.`,
    recorded
      ? 'Undo the change, or state it in the report. Another draw would change the treatments under the records.'
      : 'Draw the layout again, or undo the change.',
  );
}

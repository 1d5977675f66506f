import type { Layout } from '../../../../shared-types/layout';
import type { RotaPeriod } from '../../../../shared-types/light';
import type { Notice } from '../../../../shared-types/notice';
import { figure, noticesOfStage } from '../../../words';
import { asApplied } from '../applied';
import { drawReadsLight, inputAtDraw } from '../draw/atDraw';
import { lacksLight, lightForDraw } from '../blocks/blocks';
import { lightAt } from '../input';
import type { TrialInput } from '../input';
import { drawnSite } from '../draw/drawnFrom';
import { misfitsOf } from '../fit/fit';
import { siteOf } from '../site/siteOf';
import type { Site } from '../site/site';
import { overload } from '../treatments';
import { unitsOf } from '../units';
import { verifyLayout } from '../draw/verify';
import { carrierNotices } from './carriers';
import { average, confoundedFactors, confoundedWithLight } from './confounding';
import { levelsAtPots } from './levelsAtPots';
import { givenNotices } from './given';
import { gridNotices } from './grid';
import { trialNotice } from '../trialNotice';
import { moveNotices } from './moves';
import { replicationNotices, shareNotices } from './replication';
import { staleNotice } from './stale';
import { edgeNotices, startSizeNotices } from './unbalance';
import { alphaNotices, swapNotices } from './usual';

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
  // What was drawn is judged as it was drawn; a layout that no longer fits, as the plan is now.
  const data = drawn ? inputAtDraw(input, layout) : input;
  if (lacksLight(data)) {
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
  const site = siteOf(data);
  const ppfdNow = lightNow(input, site);
  const limits = drawn ? layout?.balanceLimits : undefined;
  const { factors } = unitsOf(data.bound ? { ...data, bound: undefined } : data);
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
    ...confoundedWithLight(site, levelsAt, limits, ppfdNow),
    ...(misfits.length === 0 ? shareNotices(site) : []),
    ...(misfits.length === 0 ? gridNotices(trial) : []),
    ...balanceUnknown(site),
    ...alphaNotices(trial),
    ...(drawn ? edgeNotices(site, levelsAt, limits) : []),
  ];
}

/** Factors of a drawn layout whose levels started with plants of different size. */
export function startNotices(
  { layout, startByPot }: Pick<NoticeInput, 'layout' | 'startByPot'>,
  drawn: Site | null,
): Notice[] {
  if (!layout || !drawn || !startByPot) return [];
  return startSizeNotices(
    { ...drawn, startByPot },
    levelsAtPots(drawn, levelsOf(layout)),
    layout.balanceLimits,
  );
}

/** The light as it is now at the measured pots; null where some pot lacks it. */
function lightNow(input: TrialInput, { pots, trial }: Site): number[] | null {
  const ppfdByPot = lightForDraw({ ...input, trial, atDraw: undefined }, pots);
  const found = pots.flatMap((pot) => lightAt(ppfdByPot, pot) ?? []);
  return found.length === pots.length ? found : null;
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
  const swapped = swapNotices(layout);
  if (!drawn) return [...swapped, staleNotice(input.rack, trial, layout, input.recorded ?? false)];
  const { differing, said } = verifyLayout(input, layout, drawn);
  if (differing.length === 0) return [...swapped, ...lightMoved(input, layout, drawn)];
  const pots = differing.length === 1 ? '1 pot differs' : `${differing.length} pots differ`;
  return [
    ...swapped,
    layoutNotice(
      'layout-altered',
      'stop',
      differing.slice(0, 50).map((id) => `pot:${id}`),
      `The layout is not what its seed “${layout.seed}” and its logged exchanges give: ${pots}. ${said.slice(0, 3).join(' ')}${said.length > 3 ? ' And so on.' : ''}`,
      'Log the exchanges that were made at the rack, or restore the drawn layout; a layout changed by hand is not randomised.',
    ),
  ];
}

// In units of the mean; less is a change in the estimate, or of no weight beside the plants.
const LIGHT_MOVED = 0.1;

/** Another light than the one that an unplanted layout balances; the layout itself still holds. */
function lightMoved(input: NoticeInput, layout: Layout, drawn: Site): Notice[] {
  const { ppfd, pots } = drawn;
  const now = lightNow(input, drawn);
  const kept = layout.assignments.some(({ ppfdUmol }) => ppfdUmol !== undefined);
  if (!ppfd || !now || !kept || layout.plantedAt !== null || !drawReadsLight(drawn.trial))
    return [];
  const mean = average(ppfd);
  const moved = pots.flatMap((pot, i) => {
    const [then = 0, here = 0] = [ppfd[i], now[i]];
    const by = Math.abs(here - then);
    return by > LIGHT_MOVED * mean ? [{ pot, then, here, by }] : [];
  });
  const [most] = [...moved].sort((a, b) => b.by - a.by);
  if (!most) return [];
  return [
    layoutNotice(
      'layout-stale',
      'note',
      ['plan'],
      `The light has changed since the draw, most at pot ${most.pot.code}: ${figure(most.then)} µmol m⁻² s⁻¹ then, ${figure(most.here)} now. The layout still holds; what it balances is the light of then.`,
      input.recorded
        ? 'State the change in the report. Another draw would change the treatments under the records.'
        : 'Draw again before planting if the light of now is to be balanced.',
    ),
  ];
}

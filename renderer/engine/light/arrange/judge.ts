import type { Lamp, LampKind } from '../../../../shared-types/rack';
import { photonFlux } from '../../lamps';
import { scaleIn, type GroupScale } from '../calibration';
import { evenness } from '../evenness';
import { shelfModel } from '../model';
import { shelfLight } from '../shelfLight';
import type { Arrangement } from './arrangement';
import type { ArrangeAsked } from './request';
import { shelfWith } from './rows';
import type { ArrangeSite } from './site';

const TARGET_WITHIN = 0.01;

type Judge = (
  lamps: Omit<Lamp, 'id'>[],
  kinds: readonly LampKind[],
  scales: readonly GroupScale[],
) => Arrangement;

/** What a bay's points get from lamps there, with the shelf's other lamps as they are. */
export function judgeOf(site: ArrangeSite, reflected: boolean, targetMeanUmol: number): Judge {
  const model = { heightMm: site.heightMm, reflected };
  return (lamps, kinds, scales) => {
    const light = shelfModel(shelfWith(site.shelf, [...lamps, ...site.others]), kinds, model);
    const found = evenness(light.at(site.points, scaleIn(scales)));
    const meetsTarget = Math.abs(found.mean / targetMeanUmol - 1) <= TARGET_WITHIN;
    return { lamps, evenness: found, scales, meetsTarget };
  };
}

/** Other kinds hang in other bays. */
export const kindsTried = ({ kind, lampKinds }: ArrangeAsked) => [
  kind,
  ...lampKinds.filter(({ id }) => id !== kind.id),
];

/** What the readings make of the lamps that hang there; none where no reading holds. */
export function scalesNow(
  { shelf, lampKinds, readings = [], reflected = true }: ArrangeAsked,
  site: ArrangeSite,
) {
  if (!readings.some(({ shelfId }) => shelfId === shelf.id)) return [];
  const light = shelfLight(shelf, lampKinds, { heightMm: site.heightMm, reflected, readings });
  return light.calibration?.scales ?? [];
}

/**
 * What new places may expect of lamps of the kind: what those of it that hang there give, by their
 * flux. Proposed lamps are of no group; those of other bays keep theirs.
 */
export function scalesTried(
  { kind }: ArrangeAsked,
  { hung, others }: ArrangeSite,
  hangs: readonly GroupScale[],
): readonly GroupScale[] {
  const scaleOf = scaleIn(hangs);
  let stated = 0;
  let given = 0;
  for (const { kindId, dimming, group } of hung) {
    if (kindId !== kind.id) continue;
    const { umolS } = photonFlux(kind, dimming);
    stated += umolS;
    given += umolS * scaleOf(group);
  }
  if (hangs.length === 0) return [];
  const elsewhere = new Set(others.map(({ group }) => group));
  const stay = hangs.filter(({ group }) => group !== '' && elsewhere.has(group));
  return given > 0 ? [{ group: '', scale: given / stated }, ...stay] : stay;
}

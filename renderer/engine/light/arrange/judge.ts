import type { Lamp, LampKind } from '../../../../shared-types/rack';
import { photonFlux } from '../../lamps';
import { real } from '../../entry';
import { scaleIn, type GroupScale } from '../calibration';
import { evenness } from '../evenness';
import { shelfModel } from '../model';
import { shelfLight } from '../shelfLight';
import type { Arrangement } from './arrangement';
import type { ArrangeAsked } from './request';
import { shelfWith } from './rows';
import type { ArrangeSite } from './site';

const TARGET_WITHIN = 0.01;

/** An arrangement with what the points get of its own lamps, and what they get of all that stay. */
export interface Judged extends Arrangement {
  ownUmol: Float64Array;
  restUmol: Float64Array;
}

type Judge = (
  lamps: Omit<Lamp, 'id'>[],
  kinds: readonly LampKind[],
  scales: readonly GroupScale[],
) => Judged;

/**
 * What a bay's points get from lamps there, with all other lamps as they are. Light adds up, so that
 * what comes from the others is worked out once.
 */
export function judgeOf(site: ArrangeSite, reflected: boolean, targetMeanUmol: number): Judge {
  const model = { heightMm: site.heightMm, reflected };
  const rests = new Map<readonly GroupScale[], Float64Array>();
  return (lamps, kinds, scales) => {
    const at = (shelf: ArrangeSite['shelf'], some: readonly Omit<Lamp, 'id'>[]) =>
      shelfModel(shelfWith(shelf, some), kinds, model).at(site.points, scaleIn(scales));
    const restUmol = rests.get(scales) ?? at(site.shelf, site.others);
    rests.set(scales, restUmol);
    const ownUmol = at(site.amongDark, lamps);
    return judgedBy({ lamps, scales, ownUmol, restUmol }, targetMeanUmol);
  };
}

function judgedBy(
  light: Pick<Judged, 'lamps' | 'scales' | 'ownUmol' | 'restUmol'>,
  targetMeanUmol: number,
): Judged {
  const found = evenness(light.ownUmol.map((own, i) => own + real(light.restUmol, i)));
  const meetsTarget = Math.abs(found.mean / targetMeanUmol - 1) <= TARGET_WITHIN;
  return { ...light, evenness: found, meetsTarget };
}

/** All lamps dimmed or turned up alike, as far as the brightest of them can go. */
export function dimmedToTarget(given: Judged, targetMeanUmol: number): Judged {
  const { lamps, ownUmol, restUmol } = given;
  const brightest = Math.max(...lamps.map((lamp) => lamp.dimming));
  const meanOf = (values: Float64Array) =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const own = meanOf(ownUmol);
  if (!(brightest > 0 && own > 0)) return given;
  const factor = Math.min(Math.max(0, targetMeanUmol - meanOf(restUmol)) / own, 1 / brightest);
  return judgedBy(
    {
      ...given,
      lamps: lamps.map((lamp) => ({ ...lamp, dimming: lamp.dimming * factor })),
      ownUmol: ownUmol.map((value) => value * factor),
    },
    targetMeanUmol,
  );
}

/** Other kinds hang in other bays. */
export const kindsTried = ({
  kind,
  lampKinds,
}: ArrangeAsked): readonly [LampKind, ...LampKind[]] => [
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

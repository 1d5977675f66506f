import type { LightPlan } from '../../../../shared-types/light';
import type { Notice } from '../../../../shared-types/notice';
import type { Rack } from '../../../../shared-types/rack';
import { percent, say, unlessRefused, type UnitSystem } from '../../../words';
import { bayAt, baysOf, canopyHeightMm, potsOfTray, trayCanopyMm } from '../../geometry';
import { shelvesInRoom, type ShelfInRoom } from '../../lamps';
import { BACK, OUTSIDE, RETURNED } from '../around/keys';
import { shelfModel } from '../model';
import { lightNotice } from './lightNotice';

/** From this share on, a bay is lit by another level's lamps too much to be called by its own. */
const MOST_LEAKED = 0.1;

/** The light factors' level at each bay, by bay id; bays without one are left out. */
export type LevelByBay = ReadonlyMap<string, string>;

/** A bay and the share of its pots' light that comes from lamps of another level. */
export interface Leak {
  bayId: string;
  name: string;
  share: number;
  /** Of it, what comes through the sides from other shelves; the rest passes beneath boards. */
  fromBeside: number;
}

/**
 * What reaches the pots of each bay of a shelf from lamps that hang in bays of another level, as a
 * share of all their light: beneath boards, and through sides that face another shelf. Silent where
 * neither can be.
 */
export function leaksOf(
  shelf: ShelfInRoom,
  rack: Pick<Rack, 'lampKinds'>,
  light: Pick<LightPlan, 'canopyAt'>,
  levels: LevelByBay,
): Leak[] {
  const heightMm = canopyHeightMm(shelf, light.canopyAt);
  const open = (shelf.boards ?? []).some(({ downToMm }) => downToMm > heightMm);
  const bays = baysOf(shelf);
  const beside = (shelf.others ?? []).flatMap((other) => baysOf(other));
  const reached = [...(open ? bays : []), ...beside];
  const mixed = bays.some(({ id }) =>
    reached.some((other) => levels.get(other.id) !== levels.get(id)),
  );
  if (!mixed) return [];
  const pots = shelf.trays.flatMap((tray) => {
    const zMm = trayCanopyMm(shelf, tray, light.canopyAt);
    return potsOfTray(shelf, tray).map((pot) => ({ ...pot, zMm }));
  });
  const request = { heightMm, reflected: true };
  const all = unlessRefused(() => shelfModel(shelf, rack.lampKinds, request));
  if (!all) return [];
  return bays.flatMap(({ id, name }) => {
    const own = levels.get(id);
    const points = pots.flatMap(({ bayId, xMm, yMm, zMm }) =>
      bayId === id ? [{ xMm, yMm, zMm }] : [],
    );
    if (own === undefined || points.length === 0) return [];
    const lamps = shelf.lamps.filter((lamp) => {
      const level = levels.get(bayAt(bays, lamp.xMm, lamp.yMm).id);
      return level !== undefined && level !== own;
    });
    const isOther = (bay: string) => {
      const level = levels.get(bay);
      return level !== undefined && level !== own;
    };
    const back = [...(all.returned?.from() ?? [])].reduce(
      (sum, [bay, share]) => sum + (isOther(bay) ? share : 0),
      0,
    );
    const ofOther = (outside: string) => {
      if (outside === BACK) return 1;
      return outside === RETURNED ? back : Number(isOther(outside));
    };
    const others = unlessRefused(() =>
      shelfModel({ ...shelf, lamps }, rack.lampKinds, request).at(points, undefined, ofOther),
    );
    const theirs = all.at(points, (group) => (group === OUTSIDE ? 1 : 0), ofOther);
    const sum = (values: Float64Array) => values.reduce((total, value) => total + value, 0);
    const whole = sum(all.at(points));
    if (!others || !(whole > 0)) return [];
    const fromBeside = beside.length > 0 ? sum(theirs) / whole : 0;
    return [{ bayId: id, name, share: sum(others) / whole, fromBeside }];
  });
}

/** One notice a shelf whose boards or sides let too much of another level's light through. */
export function leakNotices(
  rack: Rack,
  light: LightPlan,
  levels: LevelByBay,
  lengths: UnitSystem,
): Notice[] {
  return shelvesInRoom(rack).flatMap((shelf) => {
    const found = leaksOf(shelf, rack, light, levels).filter(({ share }) => share >= MOST_LEAKED);
    const [worst] = [...found].sort((a, b) => b.share - a.share);
    if (!worst) return [];
    const canopy = say('length', lengths, canopyHeightMm(shelf, light.canopyAt));
    const beside = worst.fromBeside > worst.share / 2;
    const where = beside ? 'through its open sides' : 'beneath the board';
    return [
      lightNotice(
        'light-leaks',
        'warn',
        found.map(({ bayId }) => `bay:${bayId}`),
        `Bay ${worst.name} gets ${percent(worst.share)} of its light from lamps of another level, ${where}. So the levels differ by less than they are said to.`,
        beside
          ? 'Hang a board or film on the side towards the other shelf, and say so under its sides.'
          : `Lower the board's edge to the canopy, ${canopy} above the shelf.`,
      ),
    ];
  });
}

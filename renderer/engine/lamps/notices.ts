import type { Notice } from '../../../shared-types/notice';
import type { Lamp, LampKind, LampOutput, Rack, Shelf } from '../../../shared-types/rack';
import { figure, noticesOfStage, speechIn, type Speech, type UnitSystem } from '../../words';
import { baysOf, potsOfTray, rectInside, tallestCanopyMm } from '../geometry';
import { crossingsOf } from './crossing';
import { photometryAnswer } from './file';
import { lampBounds } from './size';

const rackNotice = noticesOfStage('rack');
const lightNotice = noticesOfStage('light');

/** Lamps that cannot hang as they are drawn. */
export function hangingNotices(rack: Rack, system: UnitSystem): Notice[] {
  const say = speechIn(system);
  return rack.shelves.flatMap((shelf) => [
    ...shelf.lamps.flatMap((lamp) => {
      const kind = rack.lampKinds.find((k) => k.id === lamp.kindId);
      return kind ? noticesOf(say, shelf, lamp, kind) : [];
    }),
    ...crossingNotices(say, shelf, rack.lampKinds),
  ]);
}

/** One notice a shelf, however many of its lamps a board stands in the way of. */
function crossingNotices(
  { length: mm }: Speech,
  shelf: Shelf,
  lampKinds: readonly LampKind[],
): Notice[] {
  const found = crossingsOf(shelf, lampKinds);
  const [first] = found;
  if (!first) return [];
  const { board, kind } = first;
  const across = board.direction === 'across';
  const room = Math.max(...baysOf(shelf).map(({ rect }) => (across ? rect.widthMm : rect.depthMm)));
  const lamps =
    found.length === 1 ? `A lamp (${kind.name})` : `${found.length} lamps (${kind.name})`;
  return [
    rackNotice(
      'lamp-crosses-board',
      'stop',
      [...found.map(({ lamp }) => `lamp:${lamp.id}`), `board:${board.id}`],
      `${lamps} over shelf ${shelf.number} cannot hang through the board at ${mm(board.atMm)}. ${found.length === 1 ? 'Its light is computed as if it were' : 'Their light is computed as if they were'} cut there.`,
      `Hang lamps of at most ${mm(room)} in each bay, or stand the board ${across ? 'lengthwise' : 'across'}; the board's figures have a button for each.`,
    ),
  ];
}

function noticesOf({ length: mm }: Speech, shelf: Shelf, lamp: Lamp, kind: LampKind): Notice[] {
  const found: Notice[] = [];
  const add = (...words: Parameters<typeof rackNotice>) => found.push(rackNotice(...words));
  const name = `A lamp (${kind.name}) over shelf ${shelf.number}`;
  const floor = { xMm: 0, yMm: 0, widthMm: shelf.widthMm, depthMm: shelf.depthMm };
  const bounds = lampBounds(lamp, kind);
  if (!rectInside(bounds, floor) || lamp.zMm > shelf.clearanceMm + 0.05) {
    add(
      'lamp-outside-bay',
      'warn',
      [`lamp:${lamp.id}`],
      `${name} reaches out of its bay. Its centre is at ${mm(lamp.xMm)}, ${mm(lamp.yMm)}, ${mm(lamp.zMm)} up, and the bay is ${mm(shelf.widthMm)} by ${mm(shelf.depthMm)} and ${mm(shelf.clearanceMm)} high.`,
      'Move the lamp into the bay, or correct the size of lamp or shelf.',
    );
  }
  // Only the plants beneath a lamp can grow into it.
  const canopy = tallestCanopyMm(shelf, bounds);
  // However low a canopy is entered: leaves begin at the rim of their pot.
  const rim = Math.max(
    0,
    ...shelf.trays.flatMap((tray) => potsOfTray(shelf, tray).map(({ heightMm }) => heightMm)),
  );
  if (canopy < lamp.zMm && rim >= lamp.zMm) {
    add(
      'canopy-reaches-lamp',
      'stop',
      [`lamp:${lamp.id}`, `shelf:${shelf.id}`],
      `${name} hangs ${mm(lamp.zMm)} above the shelf, but its tallest pots are ${mm(rim)} high.`,
      'Hang the lamp higher, or take lower pots.',
    );
  }
  if (canopy >= lamp.zMm) {
    add(
      'canopy-reaches-lamp',
      'stop',
      [`lamp:${lamp.id}`, `shelf:${shelf.id}`],
      `${name} hangs ${mm(lamp.zMm)} above the shelf, but the canopy grows to ${mm(canopy)}.`,
      'Hang the lamp higher, or correct the canopy height.',
    );
  }
  return found;
}

// Meters and makers agree within about this (common practice, no source).
const LUMENS_AGREE = 0.05;
// A fitting that loses more than half of its bare lamps' light is no grow light (common practice).
const LEAST_SHARE_OUT = 0.5;

/** Lumens of one lamp kind that cannot all be true: typed, stated in its file, summed from it. */
export function lumensNotices(kind: LampKind): Notice[] {
  const answer = photometryAnswer(kind);
  if (!answer?.ok) return [];
  const { statedLumens, integratedLumens } = answer.photometry;
  const lm = (value: number) => `${figure(value)} lm`;
  const adds = `The candela of its file add up to ${lm(integratedLumens)}`;
  const typed = lumensTyped(kind.output);
  const told: { text: string; remedy: string }[] = [];
  if (typed !== null && Math.abs(integratedLumens / typed - 1) > LUMENS_AGREE) {
    told.push({
      text:
        `Lamp kind ${kind.name} has ${lm(typed)} typed. ${adds}. Its light is computed from the ` +
        `typed total: the file's curve times ${figure(typed / integratedLumens)}.`,
      remedy:
        `If the file is of this lamp, type ${lm(integratedLumens)}. If it is of a like lamp of ` +
        'another output, accept this with the reason.',
    });
  }
  if (statedLumens !== null) {
    const share = integratedLumens / statedLumens;
    const stated = `Its file states ${lm(statedLumens)} for the bare lamps of lamp kind ${kind.name}`;
    if (share > 1 + LUMENS_AGREE || share < LEAST_SHARE_OUT) {
      const why =
        share > 1
          ? 'No fitting gives more light than its bare lamps.'
          : 'A fitting seldom loses more than half of its light.';
      told.push({
        text: `${stated}. ${adds}. ${why}`,
        remedy:
          'Compare both with the maker’s sheet. If the candela are wrong, load a correct file or ' +
          'give the output as photon flux.',
      });
    }
  }
  return told.map(({ text, remedy }) =>
    lightNotice('lamp-lumens-disagree', 'warn', [`lampKind:${kind.id}`], text, remedy),
  );
}

function lumensTyped(output: LampOutput): number | null {
  switch (output.kind) {
    case 'lumens':
      return output.lumens;
    case 'photons':
    case 'watts':
      return null;
    default:
      return output satisfies never;
  }
}

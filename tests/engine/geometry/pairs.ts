import { emptyPlan } from '../../../renderer/document/new';
import type { NoticeKind } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { Board, Lamp, PotGrid, Shelf, Tray } from '../../../shared-types/rack';

/** Racks with a flaw, and ones that narrowly have not; all by the figures as they are typed. */

const grid: PotGrid = {
  pattern: 'square',
  rows: 3,
  columns: 4,
  pitchXMm: 120,
  pitchYMm: 120,
  potDiameterMm: 100,
  potHeightMm: 90,
  firstXMm: 60,
  firstYMm: 60,
  guardRing: false,
  guards: [],
  empty: [],
};

const tray = (change: Partial<Tray> = {}): Tray => ({
  id: 't11',
  letter: 'A',
  xMm: 0,
  yMm: 0,
  widthMm: 500,
  depthMm: 400,
  rimHeightMm: 60,
  grid,
  ...change,
});

const lamp = (change: Partial<Lamp> = {}): Lamp => ({
  id: 'l31',
  kindId: 'k5',
  xMm: 600,
  yMm: 300,
  zMm: 400,
  rotationDeg: 0,
  tiltDeg: 0,
  dimming: 1,
  group: 'shelf 1',
  ...change,
});

const shelf = (change: Partial<Shelf> = {}): Shelf => ({
  id: 's10',
  number: 1,
  widthMm: 1200,
  depthMm: 600,
  heightMm: 300,
  clearanceMm: 450,
  ratedLoadKg: null,
  canopy: { plantingMm: 110, harvestMm: 250 },
  reflectances: { above: 0.5, canopy: 0.1, front: 0, back: 0, left: 0, right: 0 },
  trays: [tray()],
  lamps: [lamp()],
  ...change,
});

const rack = (...shelves: Shelf[]): Plan => ({
  ...emptyPlan('rack'),
  nextId: 100,
  rack: {
    shelves,
    lampKinds: [
      {
        id: 'k5',
        name: 'strip',
        shape: 'strip',
        lengthMm: 1150,
        widthMm: 20,
        emission: { kind: 'lambertian' },
        output: { kind: 'watts', efficacyUmolJ: 2.5 },
        powerW: 40,
        massKg: 1,
      },
    ],
  },
});

const trays = (...list: Tray[]) => rack(shelf({ trays: list }));
const lamps = (change: Partial<Lamp>) => rack(shelf({ lamps: [lamp(change)] }));
const second = (change: Partial<Shelf>) =>
  shelf({ id: 's20', number: 2, heightMm: 800, trays: [], lamps: [], ...change });
const potted = (change: Partial<PotGrid>) => trays(tray({ grid: { ...grid, ...change } }));

const beside = (xMm: number) => ({ xMm, yMm: 0, turnDeg: 0 as const });
const inRoom = (plan: Plan): Plan => ({
  ...plan,
  rack: { ...plan.rack, room: { widthMm: 4000, depthMm: 3000, heightMm: 2500 } },
});

export const soundRack = rack(shelf(), second({}));

/** A board that parts the shelf; lengthwise ones stand clear of the lamp in the middle. */
const boarded = (change: Partial<Board>, hung: Partial<Lamp> = {}): Plan =>
  rack(
    shelf({
      lamps: [lamp(hung)],
      boards: [
        {
          id: 'w40',
          direction: 'across',
          atMm: 600,
          thicknessMm: 18,
          reflectance: 0.85,
          downToMm: 90,
          ...change,
        },
      ],
      bays: [{ id: 'b10' }, { id: 'b41' }],
    }),
  );

export const rackPairs: { kind: NoticeKind; why: string; flawed: Plan; sound: Plan }[] = [
  {
    kind: 'outside-shelf',
    why: '500 mm from 700 mm on end at 1200 mm, the width of the shelf',
    flawed: trays(tray({ xMm: 700.1 })),
    sound: trays(tray({ xMm: 700 })),
  },
  {
    kind: 'outside-shelf',
    why: 'over the front edge',
    flawed: trays(tray({ yMm: -0.1 })),
    sound: trays(tray({ yMm: 0 })),
  },
  {
    kind: 'trays-overlap',
    why: 'the first tray ends at 500 mm',
    flawed: trays(tray(), tray({ id: 't12', letter: 'B', xMm: 499.9 })),
    sound: trays(tray(), tray({ id: 't12', letter: 'B', xMm: 500 })),
  },
  {
    kind: 'pots-overlap',
    why: 'pots of 100 mm, 100 mm apart, touch',
    flawed: potted({ pitchXMm: 99.9 }),
    sound: potted({ pitchXMm: 100 }),
  },
  {
    kind: 'pots-overlap',
    why: 'staggered by half of 100 mm, rows √(100² − 50²) = 86.6 mm apart touch',
    flawed: potted({ pattern: 'staggered', pitchXMm: 100, pitchYMm: 86.5 }),
    sound: potted({ pattern: 'staggered', pitchXMm: 100, pitchYMm: 86.7 }),
  },
  {
    kind: 'pots-overlap',
    why: 'every other hole left empty makes a pitch of 60 mm one of 120 mm',
    flawed: potted({ rows: 1, pitchXMm: 60, empty: ['1:2'] }),
    sound: potted({ rows: 1, pitchXMm: 60, empty: ['1:2', '1:4'] }),
  },
  {
    kind: 'pot-outside-tray',
    why: 'a pot of 100 mm needs 50 mm to the side',
    flawed: potted({ firstXMm: 49.9 }),
    sound: potted({ firstXMm: 50 }),
  },
  {
    kind: 'lamp-outside-bay',
    why: '1150 mm about 625 mm end at 1200 mm',
    flawed: lamps({ xMm: 625.1 }),
    sound: lamps({ xMm: 625 }),
  },
  {
    kind: 'lamp-outside-bay',
    why: 'the bay is 450 mm high',
    flawed: lamps({ zMm: 450.1 }),
    sound: lamps({ zMm: 450 }),
  },
  {
    kind: 'canopy-reaches-lamp',
    why: 'the canopy grows to 250 mm',
    flawed: lamps({ zMm: 250 }),
    sound: lamps({ zMm: 250.1 }),
  },
  {
    kind: 'duplicate-code',
    why: 'two shelves of one number',
    flawed: rack(shelf(), second({ number: 1 })),
    sound: rack(shelf(), second({ number: 2 })),
  },
  {
    kind: 'duplicate-code',
    why: 'two trays of one letter on a shelf; on two shelves it does no harm',
    flawed: trays(tray(), tray({ id: 't12', xMm: 600 })),
    sound: rack(shelf(), second({ trays: [tray({ id: 't12', xMm: 600 })] })),
  },
  {
    kind: 'shelves-overlap',
    why: '300 mm and 450 mm of clearance end at 750 mm',
    flawed: rack(shelf(), second({ heightMm: 749.9 })),
    sound: rack(shelf(), second({ heightMm: 750 })),
  },
  {
    kind: 'shelves-overlap',
    why: 'two racks, one 1200 mm to the right of the other, at the same height',
    flawed: rack(shelf(), second({ heightMm: 300, stands: beside(1199.9) })),
    sound: rack(shelf(), second({ heightMm: 300, stands: beside(1200) })),
  },
  {
    kind: 'outside-shelf',
    why: 'a rack turned round reaches 1200 mm to the left of its corner',
    flawed: inRoom(rack(shelf({ stands: { xMm: 1199.9, yMm: 600, turnDeg: 180 } }))),
    sound: inRoom(rack(shelf({ stands: { xMm: 1200, yMm: 600, turnDeg: 180 } }))),
  },
  {
    kind: 'lamp-crosses-board',
    why: 'a lamp ends at 1150 mm, and half the board is 9 mm',
    flawed: boarded({ atMm: 1158.9 }, { xMm: 575 }),
    sound: boarded({ atMm: 1159 }, { xMm: 575 }),
  },
  {
    kind: 'board-meets-tray',
    why: 'a rim of 60 mm passes beneath an edge at 60 mm; the pots there are taken out',
    flawed: boarded({ direction: 'lengthwise', atMm: 380, downToMm: 59 }),
    sound: boarded({ direction: 'lengthwise', atMm: 380, downToMm: 60 }),
  },
  {
    kind: 'pot-under-board',
    why: 'pots reach to 350 mm from the front, and half the board is 9 mm',
    flawed: boarded({ direction: 'lengthwise', atMm: 358.8 }),
    sound: boarded({ direction: 'lengthwise', atMm: 359 }),
  },
];

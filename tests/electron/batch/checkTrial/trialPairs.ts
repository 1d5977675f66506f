import { factorOf, rackOf } from '../../../builders/trialInput';
import type { noticeKinds } from '../../../../shared-types/notice';
import {
  byLight,
  carried,
  difference,
  dimByHand,
  drawnByLight,
  edges,
  given,
  lit,
  planOf,
  set,
  shelves,
  starts,
  trays,
  watered,
} from './flawedPlans';
import type { Pair } from './pair';

export const trialPairs: Record<(typeof noticeKinds)['trial'][number], Pair[]> = {
  'factor-not-replicated': [
    {
      what: 'two shelves for two levels, against three',
      flawed: () => planOf(rackOf({ ...trays, shelves: 2 }), [factorOf(1, 'shelf', 2)]),
      sound: () => planOf(rackOf({ ...trays, shelves: 3 }), [factorOf(1, 'shelf', 2)]),
      says: /Factor 1 is not replicated: each of its 2 levels sits on one shelf only/,
    },
  ],
  'carrier-shared': [
    {
      what: 'feed tray by tray from one reservoir, against a reservoir for each tray',
      flawed: () => watered(['t101', 't102', 't201', 't202']),
      sound: () => watered(['t101'], ['t102'], ['t201'], ['t202']),
      says: /Factor 1 is to differ from tray to tray, but some share a reservoir: zone 1 \(trays 1A, 1B, 2A and 2B\)/,
    },
    {
      what: 'feed placed by hand, two levels on one reservoir against one',
      flawed: () => watered(['t101', 't201'], ['t102', 't202'], '1122'),
      sound: () => watered(['t101', 't102'], ['t201', 't202'], '1122'),
      says: /Levels of Factor 1 share a reservoir: zone 1 \(trays 1A and 2A\) and zone 2/,
    },
    {
      what: 'light tray by tray under the same lamps, against shelf by shelf',
      flawed: () => lit('tray'),
      sound: () => lit('shelf'),
      says: /Factor 1 is to differ from tray to tray, but some share their lamps: shelf 1 \(trays 1A and 1B\)/,
    },
  ],
  'treatment-not-applied': [
    {
      what: 'a tray carried from dim to bright lamps, against one carried along its shelf',
      flawed: () => carried('t201'),
      sound: () => carried('t102'),
      says: /The rota carries tray 1A on day 15 and tray 2A on day 15 to another level of Factor 1/,
    },
    {
      what: 'a tray with its medium carried to another, which goes with it',
      flawed: () => carried('t201'),
      sound: () => carried('t201', 'medium'),
      says: /another level of Factor 1/,
    },
    {
      what: 'two levels that say the same of the lamps in two ways, against one dimmed a little',
      flawed: () => set({ through: 'light', dimming: 1 }, { through: 'light' }),
      sound: () => set({ through: 'light', dimming: 1 }, { through: 'light', dimming: 0.99 }),
      says: /Level 1 and Level 2 of Factor 1 get the same lamps and hours/,
    },
    {
      what: 'hours said that are the plan’s own, against an hour less',
      flawed: () => set({ through: 'light', photoperiodHours: 16 }, { through: 'light' }),
      sound: () => set({ through: 'light', photoperiodHours: 15 }, { through: 'light' }),
      says: /get the same lamps and hours/,
    },
    {
      what: 'levels of which nothing is said, against one of which something is',
      flawed: () => set(),
      sound: () => set({ through: 'light', dimming: 0.5 }),
      says: /It is not said what the levels of Factor 1 set/,
    },
    {
      what: 'a shelf drawn at full output whose level is dim, against one drawn dim',
      flawed: () => dimByHand(1),
      sound: () => dimByHand(0.5),
      says: /The rack is drawn otherwise than Factor 1 says in 1 place: bay 2 \(Level 2: .* at 50 %, 16 h a day; drawn: .* at 100 %/,
    },
  ],
  'factors-confounded': [
    {
      what: 'lamps and species on the same shelves, against one shelf changed',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'shelf', shelves('1122')),
          given(2, 'shelf', shelves('1122')),
        ]),
      sound: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'shelf', shelves('1122')),
          given(2, 'shelf', shelves('1222')),
        ]),
      says: /Factor 1 and Factor 2 go together/,
    },
    {
      what: 'species by tray that follow the shelves, against one tray changed',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 2 }), [
          given(1, 'tray', { t101: '1', t102: '1', t201: '2', t202: '2' }),
        ]),
      sound: () =>
        planOf(rackOf({ ...trays, shelves: 2 }), [
          given(1, 'tray', { t101: '1', t102: '2', t201: '2', t202: '2' }),
        ]),
      says: /Factor 1 goes together with the shelves: each of its 2 levels is found on one shelf only/,
    },
    {
      what: 'species by tray, one a shelf, on four shelves, against one tray changed',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'tray', {
            t101: '1',
            t102: '1',
            t201: '2',
            t202: '2',
            t301: '1',
            t302: '1',
            t401: '2',
            t402: '2',
          }),
        ]),
      sound: () =>
        planOf(rackOf({ ...trays, shelves: 4 }), [
          given(1, 'tray', {
            t101: '1',
            t102: '2',
            t201: '2',
            t202: '2',
            t301: '1',
            t302: '1',
            t401: '2',
            t402: '2',
          }),
        ]),
      says: /what is replicated is the shelf, and there are 4 shelves, not 8 trays/,
    },
  ],
  'treatment-confounded-with-light': [
    {
      what: 'the brightest third of the pots, against every third',
      flawed: () => byLight(true),
      sound: () => byLight(false),
      says: /stand in different light: Level 1 \d+ and Level 2 \d+ µmol m⁻² s⁻¹ on average, \d+ % of the mean apart/,
    },
    {
      what: 'a draw beyond what its redraws keep to, against one within',
      flawed: () => drawnByLight(-0.1),
      sound: () => drawnByLight(0.1),
      says: /Level 1 \d+ and Level 2 \d+ .* 99 of 100 draws of this design stay within \d+/,
    },
  ],
  'unit-too-few-df': [
    {
      what: 'five trays for two levels, against six',
      flawed: () => planOf(rackOf({ ...trays, traysPerShelf: 5 }), [factorOf(1, 'tray', 2)]),
      sound: () => planOf(rackOf({ ...trays, traysPerShelf: 6 }), [factorOf(1, 'tray', 2)]),
      says: /^Only 5 trays carry Factor 1, at least 2 a level\. .* with 3 degrees of freedom where 4 are the least/,
    },
  ],
  'scheme-does-not-fit': [
    {
      what: 'a Latin square of three on four by four pots, against one of four',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 3)], { scheme: 'latin-square' }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 4)], { scheme: 'latin-square' }),
      says: /Tray 1A has 4 × 4 pots; a Latin square of 3 treatments needs a multiple of 3/,
    },
    {
      what: 'a Latin square analysed by straight slopes, against with its rows and columns',
      flawed: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 4)], {
          scheme: 'latin-square',
          primaryPosition: 'linear',
        }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 4)], { scheme: 'latin-square' }),
      says: /The rest of rows and columns counts as chance, so real differences may go unseen/,
    },
  ],
  'block-too-small': [
    {
      what: 'blocks of four pots for five levels, against four',
      flawed: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 5)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray-quarters' },
        }),
      sound: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 4)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray-quarters' },
        }),
      says: /holds 4 pots for 5 treatments; 8 of 8 such groups are too small/,
    },
  ],
  'unequal-replication': [
    {
      what: 'sixteen pots a tray for three levels, against fifteen',
      flawed: () =>
        planOf(rackOf(trays), [factorOf(1, 'pot', 3)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray' },
        }),
      sound: () =>
        planOf(rackOf({ ...trays, rows: 3, columns: 5 }), [factorOf(1, 'pot', 3)], {
          scheme: 'complete-blocks',
          blocks: { by: 'tray' },
        }),
      says: /2 of 2 groups share 16 pots among 3 treatments, so some get one more than others/,
    },
    {
      what: 'four shelves of one species and two of the other, against three and two',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 6 }), [given(1, 'shelf', shelves('111122'))]),
      sound: () => planOf(rackOf({ ...trays, shelves: 5 }), [given(1, 'shelf', shelves('11122'))]),
      says: /unequal numbers of shelves: Level 1 4 and Level 2 2/,
    },
  ],
  'low-power': [
    {
      what: 'a difference one per cent under what is found, against one over',
      flawed: () => difference(0.99),
      sound: () => difference(1.01),
      says: /between levels of feed would be found with a probability of only 0\.\d\d; the plan wants 0\.80/,
    },
  ],
  'too-few-pots': [
    {
      what: 'thirty-two pots for seventeen levels, against sixteen',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 17)]),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 16)]),
      says: /32 pots for 17 treatments of Factor 1: some treatments are grown in one pot only/,
    },
    {
      what: 'a given level that stands nowhere, against on one shelf',
      flawed: () =>
        planOf(rackOf({ ...trays, shelves: 3 }), [
          { ...given(1, 'shelf', shelves('122')), levels: factorOf(1, 'shelf', 3).levels },
        ]),
      sound: () => planOf(rackOf({ ...trays, shelves: 3 }), [given(1, 'shelf', shelves('123'))]),
      says: /No shelf has Level 3 of Factor 1: it is not grown at all/,
    },
  ],
  'edge-share-unequal': [
    {
      // Hypergeometric: 16 or more either way has p = 0.002, 15 or more 0.02. The two other measures
      // take their share of the 1 in 100.
      what: '16 and 6 of 18 pots at the edge, against 15 and 7',
      flawed: () => edges(16),
      sound: () => edges(15),
      says: /Level 1 89 % and Level 2 33 %\. 99 of 100 draws of this design stay within/,
    },
  ],
  'start-size-unbalanced': [
    {
      what: 'a level that started 0.73 standard deviations ahead, against 0.70, where redraws keep to 0.72',
      // Within levels the standard deviation is √(216 / 212) = 1.009.
      flawed: () => starts(0.74),
      sound: () => starts(0.71),
      says: /started unequal: .* 10\.7.* on average, 0\.73 standard deviations apart\. 99 of 100 draws of this design stay within 0\.72/,
    },
  ],
  'alpha-unusual': [
    {
      what: 'one false alarm in nine, against one in ten',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.11 }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.1 }),
      says: /A risk of a false alarm of 11 % is accepted\..*5 % is usual/,
    },
    {
      what: 'less than one in a thousand, against one in a thousand',
      flawed: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.0009 }),
      sound: () => planOf(rackOf(trays), [factorOf(1, 'pot', 2)], { alpha: 0.001 }),
      says: /A risk of a false alarm of 0\.09 % is accepted/,
    },
  ],
};

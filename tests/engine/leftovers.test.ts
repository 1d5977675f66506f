import { describe, expect, it } from 'vitest';
import { drainSchema, type Drain } from '../../shared-types/flood';
import {
  emissionSchema,
  outputSchema,
  type Emission,
  type LampKind,
  type LampOutput,
} from '../../shared-types/rack';
import { floodFigures } from '../../renderer/engine/flood';
import { lightStamp, photonFlux } from '../../renderer/engine/lamps';
import { potLight } from '../../renderer/engine/light';
import { kindOf, lampOf, shelfOf, trayOf } from '../builders/rackParts';
import { aFlood, aPlan, aTray, aZone } from './flood/plans';
import { lightPlan } from './light/racks';

/**
 * Who changes how a thing works leaves nothing of the former way behind: a plan that holds leftovers
 * does not open, and were they there, no figure would follow them. All ordered pairs of kinds.
 */
const emissions: Record<Emission['kind'], Emission> = {
  lambertian: { kind: 'lambertian' },
  beam: { kind: 'beam', fullAngleDeg: 40 },
  file: {
    kind: 'file',
    fileName: 'cone.ies',
    text: 'IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 3 1 1 2 0 0 0 1 1 25\n0 30 90\n0\n900 300 0\n',
  },
};
const outputs: Record<LampOutput['kind'], LampOutput> = {
  photons: { kind: 'photons', fluxUmolS: 80 },
  watts: { kind: 'watts', efficacyUmolJ: 1.3 },
  lumens: { kind: 'lumens', lumens: 4000, lumensPerUmolS: 70, lowest: 60, highest: 80 },
};
const drains: Record<Drain['kind'], Drain> = {
  standpipe: {
    kind: 'standpipe',
    overflowBoreMm: 33,
    returnBoreMm: 12,
    returnThrough: 'hole',
  },
  siphon: { kind: 'siphon', boreMm: 21, dropMm: 250, lossFactor: 2, tripFlowLMin: 6 },
  valve: { kind: 'valve', boreMm: 17 },
};

/** Every kind with what each other kind leaves behind. */
function pairsOf<T extends { kind: string }>(all: Record<string, T>): [string, string, T, T][] {
  const list = Object.values(all);
  return list.flatMap((from) =>
    list
      .filter((to) => to !== from)
      .map((to): [string, string, T, T] => [from.kind, to.kind, to, { ...from, ...to }]),
  );
}
const withMore = (pairs: [string, string, { kind: string }, { kind: string }][]) =>
  pairs.filter(([, , clean, mixed]) => Object.keys(mixed).length > Object.keys(clean).length);

function lightOf(change: Partial<LampKind>) {
  const kind = kindOf(change);
  const shelf = shelfOf({ trays: [trayOf()], lamps: [lampOf()] });
  const { pots } = potLight({ shelves: [shelf], lampKinds: [kind] }, lightPlan());
  return { pots: [...pots.values()], flux: photonFlux(kind), stamp: lightStamp(shelf, [kind]) };
}

function floodOf(drain: Drain) {
  const flood = aFlood({ zones: [aZone({ drain })] });
  const figures = floodFigures(aPlan(aTray(), flood).rack, flood);
  const found = figures.trays.get('t11');
  if (!found) throw new Error('the tray has no figures');
  // Zone and vessel hold the settings themselves, leftovers included.
  return { ...found, zone: null, vessel: null };
}

describe('what is left of a former kind never acts', () => {
  it('there are three of each, and most leave something', () => {
    for (const all of [emissions, outputs, drains])
      expect(pairsOf<{ kind: string }>(all)).toHaveLength(6);
  });

  it.each(pairsOf(emissions))('emission %s, then %s', (_from, _to, clean, mixed) => {
    expect(lightOf({ emission: mixed })).toEqual(lightOf({ emission: clean }));
  });

  it.each(pairsOf(outputs))('output %s, then %s', (_from, _to, clean, mixed) => {
    expect(lightOf({ output: mixed })).toEqual(lightOf({ output: clean }));
  });

  it.each(pairsOf(drains))('drain %s, then %s', (_from, _to, clean, mixed) => {
    expect(floodOf(mixed)).toEqual(floodOf(clean));
  });

  it.each([
    ['emission', emissionSchema, pairsOf(emissions)],
    ['output', outputSchema, pairsOf(outputs)],
    ['drain', drainSchema, pairsOf(drains)],
  ] as const)('a plan with a leftover %s does not open', (_, schema, pairs) => {
    const left = withMore([...pairs]);
    expect(left.length).toBeGreaterThan(1);
    for (const [, , clean, mixed] of left) {
      expect(schema.safeParse(clean).success).toBe(true);
      expect(schema.safeParse(mixed).success).toBe(false);
    }
  });
});

import type { UnitKind } from '../../../../shared-types/trial/trial';
import { baysOf, trayCode } from '../../geometry';
import { asApplied } from '../applied';
import { blocksOf, lightForDraw } from '../blocks/blocks';
import { lightAt } from '../input';
import type { TrialInput } from '../input';
import { boundTrial } from '../bound';
import { eachApart, partitionBy } from './partition';
import type { Partition } from './partition';
import { stripsOver } from '../blocks/strips';
import { overload } from '../treatments';
import { trialPotsOf, type TrialPot } from './trialPot';
import { Refusal } from '../../../words';
import { tiersOf } from './tiers';
import type { Site } from './site';
import { firstPotsOf } from './siteUnits';

interface Resolved {
  input: TrialInput;
  site: Site;
}

// Notices, units and the power of a trial are asked one after another of one and the same site.
const resolved = new WeakMap<TrialInput['rack'], Resolved>();
const PARTS = ['trial', 'ppfdByPot', 'zones', 'startByPot', 'atDraw', 'bound'] as const;

/** Resolves pots, blocks, units and the groups within which each tier of factors is drawn. */
export function siteOf(input: TrialInput): Site {
  const last = resolved.get(input.rack);
  if (last && PARTS.every((part) => last.input[part] === input[part])) return last.site;
  const site = resolve(input);
  resolved.set(input.rack, { input, site });
  return site;
}

function resolve(input: TrialInput): Site {
  const { rack } = input;
  const tooMany = overload(input.trial.factors);
  if (tooMany) throw new Refusal(`trial: ${tooMany.text} ${tooMany.remedy}`);
  const pots = trialPotsOf(rack, input.zones);
  const { trial } = asApplied(
    input.bound ? boundTrial(input.trial, input.bound, pots) : input.trial,
    pots,
  );
  const blocks = blocksOf(input);
  const blockKeyOf = new Map<string, string>();
  for (const { key, potIds } of blocks) for (const id of potIds) blockKeyOf.set(id, key);
  const keyOfPot = (pot: TrialPot) => blockKeyOf.get(pot.id) ?? '';
  const blockOf = partitionBy(pots.map(keyOfPot));
  const blockKeys = firstPotsOf(pots, blockOf).map(keyOfPot);
  const rows = stripsOver(pots, { blocks, blockOf, blockKeys }, trial, 'row-strip');
  const columns = stripsOver(pots, { blocks, blockOf, blockKeys }, trial, 'column-strip');
  const unitOf: Record<UnitKind, Partition> = {
    shelf: partitionBy(pots.map((pot) => pot.shelfId)),
    zone: partitionBy(pots.map((pot) => pot.zoneId)),
    bay: partitionBy(pots.map((pot) => pot.bayId)),
    tray: partitionBy(pots.map((pot) => pot.trayId)),
    'row-strip': rows.partition,
    'column-strip': columns.partition,
    pot: eachApart(pots.length),
  };
  const names = new Map<string, string>();
  for (const shelf of rack.shelves) {
    names.set(shelf.id, `Shelf ${shelf.number}`);
    for (const bay of baysOf(shelf)) names.set(bay.id, `Shelf ${bay.name}`);
    for (const tray of shelf.trays) {
      names.set(tray.id, `Tray ${trayCode(shelf.number, tray.letter)}`);
    }
  }
  for (const zone of input.zones) names.set(zone.id, zone.name);
  const ppfdByPot = lightForDraw({ ...input, trial }, pots);
  const lights = pots.map((pot) => lightAt(ppfdByPot, pot));
  const ppfd = lights.filter((light) => light !== null);
  const site: Site = {
    trial,
    pots,
    blocks,
    blockOf,
    blockKeys,
    unitOf,
    unitNames: {
      shelf: firstPotsOf(pots, unitOf.shelf).map((pot) => names.get(pot.shelfId) ?? ''),
      zone: firstPotsOf(pots, unitOf.zone).map((pot) => names.get(pot.zoneId) ?? ''),
      bay: firstPotsOf(pots, unitOf.bay).map((pot) => names.get(pot.bayId) ?? ''),
      tray: firstPotsOf(pots, unitOf.tray).map((pot) => names.get(pot.trayId) ?? ''),
      'row-strip': rows.names,
      'column-strip': columns.names,
      pot: pots.map((pot) => pot.code),
    },
    tiers: [],
    ppfd: ppfd.length === pots.length ? ppfd : null,
    startByPot: input.startByPot ?? null,
  };
  site.tiers = tiersOf(site);
  return site;
}

import type { Plan } from '../../../../shared-types/plan';
import type { Emission, Lamp, LampKind } from '../../../../shared-types/rack';
import {
  calibrationsOf,
  groupingsOf,
  lampOutputOf,
  lightGroupsOf,
  planAsGrown,
  setupListOf,
  type GroupedBy,
} from '../../../derive';
import { baysOf, type Bay } from '../../../engine/geometry';
import { endSide } from '../../../engine/lamps';
import { bayHours } from '../../../engine/light';
import {
  figure,
  formatShare,
  list,
  percent,
  plural,
  said,
  speechIn,
  trimmed,
  type Speech,
  listSign,
  sayDay,
} from '../../../words';
import { numberCell, words, type FindingsTable } from '../cells';
import { settingsTable } from './compact';

/** Every kind of lamp, and what it gives. */
export function lampKindsTable(plan: Plan): FindingsTable | null {
  const { rack, display } = planAsGrown(plan);
  const say = speechIn(display.lengths);
  const used = new Set(rack.shelves.flatMap(({ lamps }) => lamps.map(({ kindId }) => kindId)));
  return settingsTable({
    name: 'lamp kinds',
    caption: 'Lamps',
    heads: ['Lamp', 'Lit face', 'Beam', 'Light output', 'Power', 'Per joule'],
    rows: rack.lampKinds
      .filter(({ id }) => used.has(id))
      .map((kind) => [
        kind.name,
        `${kind.shape}, ${say.length(kind.lengthMm)} × ${say.length(kind.widthMm)}`,
        beamWords(kind.emission),
        ...outputWords(kind),
      ]),
  });
}

function beamWords(emission: Emission): string {
  switch (emission.kind) {
    case 'lambertian':
      return 'flat face (Lambertian)';
    case 'beam':
      return `${figure(emission.fullAngleDeg)}° full angle`;
    case 'file':
      return `file ${emission.fileName}`;
  }
}

function outputWords(kind: LampKind): [string, string, string] {
  const loss = kind.lossPer1000h ? `, loses ${formatShare(kind.lossPer1000h)} in 1000 h` : '';
  const power = `${figure(kind.powerW)} W`;
  const output = lampOutputOf(kind);
  if (!output.ok) return ['not known', power, ''];
  const { flux, efficacyUmolJ } = output.value;
  const range =
    flux.highest > flux.lowest ? ` (${figure(flux.lowest)} to ${figure(flux.highest)})` : '';
  return [
    `${figure(flux.umolS)} µmol/s${range}${loss}`,
    power,
    efficacyUmolJ === null ? '' : `${figure(efficacyUmolJ)} µmol/J`,
  ];
}

const hasLamps = (plan: Plan): boolean =>
  planAsGrown(plan).rack.shelves.some(({ lamps }) => lamps.length > 0);

/** Bay by bay as treated: lamps, where they hang, and their hours. */
export function hangingTable(plan: Plan): FindingsTable | null {
  const { rack, light, display } = planAsGrown(plan);
  if (!hasLamps(plan)) return null;
  const say = speechIn(display.lengths);
  const levels = new Map(setupListOf(plan)?.lamps.map(({ place, levels: own }) => [place, own]));
  return settingsTable({
    name: 'hanging',
    caption: 'Where they hang, and how long they burn',
    heads: [
      'Over',
      'Level',
      'Lamps',
      'Hung above the shelf',
      'Middles from left / front',
      'Hours a day',
    ],
    rows: rack.shelves.flatMap((shelf) => {
      const bays = baysOf(shelf);
      return bays.map((bay) => {
        const lamps = shelf.lamps.filter(({ xMm, yMm }) => isIn(bay, xMm, yMm));
        const place = placeWords(shelf.number, bay);
        return [
          place.replace(/^Shelf/, 'shelf'),
          levels.get(place) ?? '',
          kindsWords(lamps, rack.lampKinds),
          list([...new Set(lamps.map((lamp) => hungWords(lamp, say)))]),
          lamps.map(({ xMm, yMm }) => `${say.length(xMm)} / ${say.length(yMm)}`).join(', '),
          `${trimmed(bayHours(bay, light), 2)} h`,
        ];
      });
    }),
  });
}

const isIn = ({ rect }: Bay, xMm: number, yMm: number): boolean =>
  xMm >= rect.xMm &&
  xMm <= rect.xMm + rect.widthMm &&
  yMm >= rect.yMm &&
  yMm <= rect.yMm + rect.depthMm;

function placeWords(number: number, { name }: Bay): string {
  const where = name.replace(/^\d+ ?/, '');
  return where === '' ? `Shelf ${number}` : `Shelf ${number}, ${where} bay`;
}

function hungWords(lamp: Lamp, say: Speech): string {
  const { zMm, rotationDeg, tiltDeg, burntHours = 0, leadEnd } = lamp;
  const turned = rotationDeg === 0 ? '' : `, turned ${figure(rotationDeg)}°`;
  const tipped = tiltDeg === 0 ? '' : `, tipped ${figure(tiltDeg)}°`;
  const burnt = burntHours === 0 ? '' : `, burnt ${figure(burntHours)} h before the trial`;
  const lead = leadEnd === undefined ? '' : `, lead at the ${endSide(leadEnd, rotationDeg)} end`;
  return `${say.length(zMm)}${turned}${tipped}${burnt}${lead}`;
}

function kindsWords(lamps: readonly Lamp[], kinds: readonly LampKind[]): string {
  const counts = new Map<string, number>();
  for (const { kindId, dimming } of lamps) {
    const name = kinds.find(({ id }) => id === kindId)?.name ?? kindId;
    const one = `${name} at ${percent(dimming)}`;
    counts.set(one, (counts.get(one) ?? 0) + 1);
  }
  return counts.size === 0 ? 'none' : list([...counts].map(([one, n]) => `${n} × ${one}`));
}

const HEADS: Record<GroupedBy, string> = {
  shelf: 'Shelf',
  bay: 'Bay',
  tray: 'Tray',
  block: 'Block',
  treatment: 'Treatment',
};

/** PPFD and DLI at the pots, in groups of one kind. */
export function lightTable(plan: Plan, by: GroupedBy): FindingsTable | null {
  const grown = planAsGrown(plan);
  const groups = lightGroupsOf(grown, by);
  if (groups.length === 0) return null;
  const unsure = groups.some(({ uncertainty }) => uncertainty !== null);
  return {
    name: `light by ${by}`,
    caption: `Light at the pots, by ${HEADS[by].toLowerCase()}`,
    columns: [
      { head: HEADS[by] },
      { head: 'PPFD', unit: 'µmol m⁻² s⁻¹', numeric: true },
      { head: 'least to most', numeric: true },
      { head: 'DLI', unit: 'mol m⁻² d⁻¹', numeric: true },
      ...(unsure ? [{ head: 'Mean ±', unit: '%', numeric: true }] : []),
    ],
    rows: groups.map((group) => {
      const { mean, min, max } = group.withoutGuards ?? group.evenness;
      const plusMinus = group.uncertainty?.plusMinusPercent ?? null;
      return [
        words(group.name.replace(/^(Shelf|Bay|Tray) /, '').replace(/\s+/, ' ')),
        numberCell(mean),
        words(`${said(min)} to ${said(max)}`),
        numberCell(group.dliWithoutGuardsMol ?? group.dliMol),
        ...(unsure ? [numberCell(plusMinus, 2)] : []),
      ];
    }),
  };
}

/** The tables of light that the plan has groups for: by place, and by treatment. */
export function lightTables(plan: Plan): [FindingsTable | null, FindingsTable | null] {
  if (!hasLamps(plan)) return [null, null];
  const known = groupingsOf(planAsGrown(plan));
  const place: GroupedBy = known.includes('bay') ? 'bay' : 'shelf';
  return [lightTable(plan, place), lightTable(plan, 'treatment')];
}

/** Of what the light figures are made: the canopy that they are for, and the readings behind them. */
export function lightWords(plan: Plan): string {
  const { light, rack } = plan;
  if (!hasLamps(plan)) return 'No lamps are in the plan.';
  const calibrated = calibrationsOf(planAsGrown(plan));
  const dates = [...new Set(light.readings.flatMap(({ date }) => date ?? []))].sort();
  const factors = calibrated.map(
    ({ shelfNumber, calibration }) =>
      `shelf ${shelfNumber} ${list(calibration.scales.map(({ scale }) => `× ${figure(scale)}`))}` +
      (calibration.carried ? ' (carried over from before a change)' : ''),
  );
  const heights: Record<Plan['light']['canopyAt'], string> = {
    planting: 'at the canopy as planted',
    harvest: 'at the canopy at harvest',
    midway: 'midway between the canopies at planting and at harvest',
  };
  const read =
    light.readings.length === 0
      ? 'No meter readings: all light is estimated from the lamps.'
      : `${plural(light.readings.length, 'meter reading')}${dates.length > 0 ? ` of ${list(dates.map(sayDay))}` : ''}; ${factors.length > 0 ? `they set the estimate to ${factors.join(listSign())}` : 'none is used'}.`;
  const left = rack.shelves.length - calibrated.length;
  return `Light is told ${heights[light.canopyAt]}, without guard pots. ${read}${calibrated.length > 0 && left > 0 ? ` ${plural(left, 'shelf', 'shelves')} without readings ${left === 1 ? 'is' : 'are'} estimated.` : ''}`;
}

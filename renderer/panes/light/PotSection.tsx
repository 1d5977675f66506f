import type { Plan } from '../../../shared-types/plan';
import {
  lightAtOwnHeightsOf,
  lightIntervalsOf,
  lightOverTrialOf,
  potByIdOf,
  potLightOf,
  type LightCounted,
  type LightOverTrial,
} from '../../derive';
import type { LightSource } from '../../engine/light';
import { useSession } from '../../store/context';
import { Facts, Section } from '../../ui';
import { fixed, formatLength, percent, sayDay } from '../../words';

const SOURCE: Record<LightSource, string> = {
  estimated: 'estimated',
  calibrated: 'calibrated',
  'carried over': 'carried over from readings before the change',
};

/** The light of the pot that is selected; nothing where none is. */
export function PotSection({ plan, counted }: { plan: Plan; counted: LightCounted }) {
  const selection = useSession((s) => s.selection);
  const pot = selection
    .filter((ref) => ref.startsWith('pot:'))
    .map((ref) => potByIdOf(plan).get(ref.slice(4)))[0];
  const light = potLightOf(plan, counted);
  const value = pot ? light.pots.get(pot.id) : undefined;
  if (!pot || !value) return null;
  const ofMean = light.shelves.get(pot.shelfId)?.uncertainty.plusMinusPercent ?? null;
  const interval = lightIntervalsOf(plan).get(pot.id);
  const overTrial = lightOverTrialOf(plan);
  const moved = overTrial?.ok ? overTrial.value.pots.get(pot.id) : undefined;
  const { plusMinusPercent } = value;
  const off =
    plusMinusPercent !== null ? ` ± ${fixed((value.ppfdUmol * plusMinusPercent) / 100, 0)}` : '';
  const standing = SOURCE[value.source];
  const source = counted !== 'reflected' ? `${standing}, direct light alone` : standing;
  return (
    <Section title={`Pot ${pot.code}`} testId="pot-light">
      <Facts
        rows={[
          ['PPFD', `${fixed(value.ppfdUmol, 0)}${off} µmol m⁻² s⁻¹`],
          ...(interval
            ? [
                [
                  'by the range of the lamps’ factor',
                  `${fixed(interval.lowest, 0)} to ${fixed(interval.highest, 0)} µmol m⁻² s⁻¹`,
                ] as const,
              ]
            : []),
          ['DLI', `${fixed(value.dliMol, 1)} mol m⁻² d⁻¹`],
          ['Figure is', source],
          ...(plusMinusPercent !== null && ofMean !== null
            ? [
                [
                  '± holds 95 of 100',
                  `this pot ±${fixed(plusMinusPercent, 0)} %, the shelf’s mean ±${fixed(ofMean, 0)} %`,
                ] as const,
              ]
            : []),
          ['From the tray’s side', formatLength(pot.edgeDistanceMm, plan.display.lengths)],
          ...(moved
            ? [
                [
                  overTrial?.ok ? overTrialWords(overTrial.value) : '',
                  `${fixed(moved.ppfdUmol, 0)} (${fixed(moved.lowestUmol, 0)}–${fixed(moved.highestUmol, 0)}) µmol m⁻² s⁻¹, DLI ${fixed(moved.dliMol, 1)}`,
                ] as const,
              ]
            : []),
          ...ownHeightRows(plan, pot.id),
        ]}
      />
    </Section>
  );
}

/** Over how long, and with what: `Over 42 days with the rota, canopy as recorded`. */
function overTrialWords({ days, moved, heights }: LightOverTrial): string {
  const grown = { fixed: '', planned: ', canopy as planned', recorded: ', canopy as recorded' };
  return `Over ${days} days${moved ? ' with the rota' : ''}${grown[heights]}`;
}

/** The light at the plant's own height, and what taller neighbours take of it. */
function ownHeightRows(plan: Plan, potId: string): (readonly [string, string])[] {
  const found = lightAtOwnHeightsOf(plan);
  const own = found?.pots.get(potId);
  if (!found || !own) return [];
  const { lengths } = plan.display;
  const more = own.canopyUmol > 0 ? own.openUmol / own.canopyUmol - 1 : 0;
  const sign = more < 0 ? '−' : '+';
  return [
    ...(found.recorded
      ? [
          [
            `At its own height, ${formatLength(own.heightMm, lengths)} on ${sayDay(found.recorded.date)}`,
            `${fixed(own.openUmol, 0)} µmol m⁻² s⁻¹, ${sign}${percent(Math.abs(more))} against the canopy`,
          ] as const,
        ]
      : []),
    ...(own.shadedHighest >= 0.005
      ? [
          [
            'Taller neighbours take',
            `about ${percent(own.shadedShare)}: ${percent(own.shadedLowest)} with narrow leaves, ${percent(own.shadedHighest)} where leaves touch (up to ${formatLength(own.tallerByMm, lengths)} taller)`,
          ] as const,
        ]
      : []),
  ];
}

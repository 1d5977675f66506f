import type { Plan } from '../../../../shared-types/plan';
import { planAsGrown, ppfdByPotOf, startByPotOf } from '../../../derive';
import { runName } from '../../../document/runs';
import { COLUMN, inRunByPot, type Findings, type FindingsOutcome } from '../../../engine/findings';
import type { Kept } from '../../../store/context';
import { lightColour, signedColour, valueColour } from '../../../ui';
import { figures, fixed } from '../../../words';

/** What the pots of the rack are coloured by, beside the findings. */
export const racksShown = ['treatment', 'light', 'start', 'harvest', 'growth', 'residual'] as const;
export type RackShown = (typeof racksShown)[number];

export const rackShownWords: Record<RackShown, string> = {
  treatment: 'Treatment',
  light: 'Light',
  start: 'Start',
  harvest: 'Result',
  growth: 'Growth',
  residual: 'Residuals',
};

export const RACK_SHOWN: Kept<RackShown> = { name: 'rack beside findings', initial: 'harvest' };

/** What a second rack shows beside the first, so that one sees whether the two go together. */
export const RACK_BESIDE: Kept<RackShown | 'none'> = {
  name: 'second rack beside findings',
  initial: 'light',
};

/** Residuals beyond this many standard deviations get the end of the colour scale. */
const RESIDUAL_END = 2.5;

/** Values of the pots on one scale over all shelves, with the colours that show them. */
export interface ValuesShown {
  label: string;
  unit: string;
  values: ReadonlyMap<string, number>;
  /** Ends of the scale; a value beyond them has the colour of the end. */
  from: number;
  to: number;
  colour: (share: number) => string;
  /** Whether a figure on that colour is to be white. */
  isDark: (share: number) => boolean;
  text: (value: number) => string;
}

/** Which of two pictures are shown, of what there is; null: no second one. */
export function racksChosen(
  there: readonly RackShown[],
  first: RackShown,
  beside: RackShown | 'none',
): { first: RackShown; beside: RackShown | null } {
  // What is not there, as a result out of date, is not replaced by other values.
  const shown = there.includes(first) ? first : (there[0] ?? 'treatment');
  const second = beside !== 'none' && beside !== shown && there.includes(beside) ? beside : null;
  return { first: shown, beside: second };
}

/** What there is to show: nothing of the start without weighings then, no treatment without a layout. */
export function racksOf(plan: Plan, outcome: FindingsOutcome | null): RackShown[] {
  const hasStart = startByPotOf(plan).size > 0;
  return racksShown.filter((shown) => {
    switch (shown) {
      case 'treatment':
        return plan.layout !== null;
      case 'light':
        // Where there are no lamps, or no pot is told from another, there is nothing to see.
        return varies([...ppfdByPotOf(plan).values()]);
      case 'start':
        return hasStart;
      case 'growth':
        return hasStart && outcome?.ok === true && outcome.findings.question.index === 'final';
      case 'harvest':
      case 'residual':
        return outcome?.ok === true;
    }
  });
}

/** The values of one picture; null for treatments, which are no values, and where there are none. */
export function shownOn(
  plan: Plan,
  outcome: FindingsOutcome | null,
  what: RackShown,
): ValuesShown | null {
  const findings = outcome?.ok ? outcome.findings : null;
  switch (what) {
    case 'treatment':
      return null;
    case 'light':
      return scaled('Light at each pot', 'µmol m⁻² s⁻¹', ppfdByPotOf(planAsGrown(plan)), {
        colour: lightColour,
        isDark: (share) => share < 0.5,
      });
    case 'start':
      return scaled('At the start', findings?.response.unit ?? '', startByPotOf(plan));
    case 'harvest':
      return findings && scaled(findings.response.name, unitOf(findings), resultOf(findings, plan));
    case 'growth': {
      const start = startByPotOf(plan);
      return (
        findings &&
        scaled(
          `${findings.response.name}: more than at the start`,
          findings.response.unit,
          new Map(
            [...resultOf(findings, plan)].flatMap(([id, value]) => {
              const before = start.get(id);
              return before === undefined ? [] : [[id, value - before] as const];
            }),
          ),
        )
      );
    }
    case 'residual':
      return (
        findings && {
          label: 'Above or below what the analysis expects',
          unit: 'standard deviations',
          values: inRunByPot(findings, findings.residuals, runName(plan)),
          from: -RESIDUAL_END,
          to: RESIDUAL_END,
          colour: (share) => signedColour(share * 2 - 1),
          isDark: (share) => Math.abs(share * 2 - 1) > 0.62,
          text: (value) => `${value > 0 ? '+' : ''}${fixed(value, 1)}`,
        }
      );
  }
}

const varies = (values: readonly number[]): boolean =>
  values.length > 0 && Math.max(...values) - Math.min(...values) > 1e-9;

/** The unit, where the name does not say it already, as that of leaves. */
const unitOf = ({ response: { name, unit } }: Findings): string =>
  name.toLowerCase() === unit ? '' : unit;

/** By pot of the rack, as the run in hand has it. */
function resultOf(findings: Findings, plan: Plan): ReadonlyMap<string, number> {
  const { table, pots } = findings;
  const values = table.columns[COLUMN.response] ?? [];
  const byRow = new Map(
    pots.flatMap(({ id }, row) => {
      const value = values[row];
      return typeof value === 'number' ? [[id, value] as const] : [];
    }),
  );
  return inRunByPot(findings, byRow, runName(plan));
}

/** From the least to the most of the values, so that all shelves share one scale. */
function scaled(
  label: string,
  unit: string,
  values: ReadonlyMap<string, number>,
  look: Pick<ValuesShown, 'colour' | 'isDark'> = {
    colour: valueColour,
    isDark: (share) => share > 0.55,
  },
): ValuesShown | null {
  if (values.size === 0) return null;
  const all = [...values.values()];
  const [from, to] = [Math.min(...all), Math.max(...all)];
  return {
    ...look,
    label,
    unit,
    values,
    from,
    to,
    text: (value) => (all.every(Number.isInteger) ? String(value) : figures(value, 3)),
  };
}

import type { Plan } from '../../../../shared-types/plan';
import { placedPotsOf, planAsGrown, ppfdByPotOf, treatmentsOfPlan } from '../../../derive';
import { COLUMN, type Findings } from '../../../engine/findings';
import { lightColour, signedColour, valueColour } from '../../../ui/colour/palette';
import { fixed } from '../../../words';
import { html, type Fragment } from '../../html';
import { treatmentMark } from '../../treatmentMark';
import { potOnRack } from '../inRun';
import { rackMaps, type MapFaceOf, type RackMap } from '../rackMap';

/** Residuals beyond so many standard deviations have the strongest colour. */
const FAR = 2.5;

/** The rack pot by pot: what each was given, its light, what was found, and what the model left. */
export function mapsHtml(drawn: Plan, findings: Findings): Fragment {
  const plan = planAsGrown(drawn);
  const known: (RackMap | null)[] = [
    treatmentMap(plan),
    shadedMap('Light, PPFD in µmol m⁻² s⁻¹', ppfdByPotOf(plan), lightColour),
    valueMap(plan, findings),
    residualMap(plan, findings),
  ];
  const maps = known.filter((map) => map !== null);
  return [keyHtml(plan), rackMaps(plan, maps)];
}

function keyHtml(plan: Plan): Fragment {
  const treatments = treatmentsOfPlan(plan);
  if (treatments.length === 0) return null;
  return html`<ul class="key" aria-label="Treatments">${treatments.map(
    ({ letter, name }, look) =>
      html`<li><svg width="5mm" height="5mm" viewBox="-2.6 -2.6 5.2 5.2" aria-hidden="true">${treatmentMark({ look, mark: letter }, { x: 0, y: 0, radius: 2.4 })}</svg> <span>${letter}: ${name}</span></li>`,
  )}</ul>`;
}

function treatmentMap(plan: Plan): RackMap | null {
  const placed = placedPotsOf(plan);
  if (treatmentsOfPlan(plan).length === 0 || placed.size === 0) return null;
  const faceOf: MapFaceOf = (id, { x, y, radius }) => {
    const found = placed.get(id);
    const letter = found?.treatment?.letter;
    if (!found || letter === undefined) return null;
    return { mark: treatmentMark({ look: found.index, mark: letter }, { x, y, radius }) };
  };
  return { title: 'Treatments', faceOf };
}

function shadedMap(
  title: string,
  values: ReadonlyMap<string, number>,
  colour: (share: number) => string,
): RackMap | null {
  const all = [...values.values()];
  const [least, most] = [Math.min(...all), Math.max(...all)];
  if (all.length === 0 || !(most > 0)) return null;
  const decimals = most < 100 && all.some((value) => !Number.isInteger(value)) ? 1 : 0;
  return {
    title: `${title}: ${fixed(least, decimals)} to ${fixed(most, decimals)}`,
    faceOf: (id) => {
      const value = values.get(id);
      if (value === undefined) return null;
      const share = most > least ? (value - least) / (most - least) : 0.5;
      return { text: fixed(value, decimals), fill: colour(share) };
    },
  };
}

function valueMap(plan: Plan, findings: Findings): RackMap | null {
  const { name, unit } = findings.response;
  return shadedMap(unit === '' ? name : `${name}, ${unit}`, valuesOf(plan, findings), valueColour);
}

function valuesOf(plan: Plan, { table, pots }: Findings): Map<string, number> {
  const onRack = potOnRack(plan);
  const values = table.columns[COLUMN.response] ?? [];
  return new Map(
    pots.flatMap((pot, row) => {
      const [value, id] = [values[row], onRack(pot)];
      return typeof value === 'number' && id !== null ? [[id, value] as const] : [];
    }),
  );
}

function residualMap(plan: Plan, { residuals: found, pots }: Findings): RackMap | null {
  const onRack = potOnRack(plan);
  const residuals = new Map(pots.map((pot) => [onRack(pot), found.get(pot.id)]));
  if (found.size === 0) return null;
  return {
    title: 'Residuals, in standard deviations',
    faceOf: (id) => {
      const residual = residuals.get(id);
      if (residual === undefined) return null;
      const sign = residual >= 0.05 ? '+' : residual <= -0.05 ? '−' : '';
      return {
        text: `${sign}${fixed(Math.abs(residual), 1)}`,
        fill: signedColour(Math.max(-1, Math.min(1, residual / FAR))),
      };
    },
  };
}

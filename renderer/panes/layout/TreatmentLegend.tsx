import { treatmentsOfPlan } from '../../derive';
import { blindedSince } from '../../document/queries';
import { treatmentsOnScreen } from '../../print';
import { usePlanStore } from '../../store/context';
import { Scroller, Swatch, treatmentLook } from '../../ui';

/**
 * Which letter, pattern and colour stands for which treatment. A factorial is a small table: the
 * last factor runs across, all others down, as the letters run.
 */
export function TreatmentLegend() {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  if (!plan) return null;
  if (blindedSince(plan) !== null && plan.layout) {
    return (
      <>
        {treatmentsOnScreen(plan).treatments.map(({ mark, look }) => (
          <span key={mark} className="legend-item">
            <Swatch look={treatmentLook(look)} letter={mark} size={22} />
          </span>
        ))}
        <span className="legend-item">codes of treatments</span>
      </>
    );
  }
  const treatments = treatmentsOfPlan(plan);
  const factors = plan.trial?.factors ?? [];
  const last = factors.at(-1);
  if (!last) return <span>Nothing is compared: all plants are treated alike.</span>;
  if (factors.length === 1) {
    return (
      <>
        {treatments.map((treatment, index) => (
          <span key={treatment.key} className="legend-item">
            <Swatch look={treatmentLook(index)} letter={treatment.letter} size={18} />
            {treatment.name}
          </span>
        ))}
      </>
    );
  }
  const across = last.levels.length;
  const rows = Array.from({ length: treatments.length / across }, (_, r) =>
    treatments.slice(r * across, (r + 1) * across),
  );
  return (
    <Scroller className="legend-frame" label="Treatments">
      <table className="legend-table">
        <thead>
          <tr>
            <th scope="col">
              {factors
                .slice(0, -1)
                .map((factor) => factor.name)
                .join(' · ')}
            </th>
            {last.levels.map((level) => (
              <th key={level.id} scope="col">
                {level.name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, r) => (
            <tr key={row[0]?.key}>
              <th scope="row">{row[0]?.name.split(' · ').slice(0, -1).join(' · ')}</th>
              {row.map((treatment, c) => (
                <td key={treatment.key}>
                  <Swatch
                    look={treatmentLook(r * across + c)}
                    letter={treatment.letter}
                    size={18}
                  />
                  <span className="visually-hidden">
                    {treatment.letter}: {treatment.name}
                  </span>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroller>
  );
}

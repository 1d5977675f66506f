import { treatmentsOfPlan } from '../../derive';
import { usePlanStore } from '../../store/context';
import { Swatch, treatmentLook } from '../../ui';

export function TreatmentLegend() {
  const plan = usePlanStore((s) => s.preview ?? s.plan);
  if (!plan) return null;
  const treatments = treatmentsOfPlan(plan);
  if (treatments.length === 0)
    return <span>Nothing is compared: all plants are treated alike.</span>;
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

import { useCurrentOutcome, useFindings } from '../../store/findingsContext';
import { Ramp, signedColour } from '../../ui';
import { RESIDUAL_END } from './look';

export function FindingsLegend() {
  const outcome = useCurrentOutcome();
  const fromTable = useFindings((s) => s.fromTable);
  if (fromTable) {
    return <span>The rack shows the plan, not the pots of {fromTable.name}.</span>;
  }
  if (!outcome?.ok) return <span>Residuals appear on the rack once there are findings.</span>;
  return (
    <Ramp
      label="Above or below what the analysis expects"
      unit="standard deviations"
      colour={(share) => signedColour(share * 2 - 1)}
      low={`−${RESIDUAL_END}`}
      middle="0"
      high={`+${RESIDUAL_END}`}
    />
  );
}

import type { Plan } from '../../../../shared-types/plan';
import { potByIdOf, type LightOverTrial } from '../../../derive';
import type { Evenness } from '../../../engine/light';
import { useHostOffer } from '../../../store/hostContext';
import { writeDelimited } from '../../../tables';
import { Button, Checkbox, Table } from '../../../ui';
import { fixed, rounded } from '../../../words';
import { showOverTrial, useLightSession } from '../lightSession';

/** The light of the pots over the whole trial, as the trays stand and with their moves. */
export function RotaOutcome({ plan, light }: { plan: Plan; light: LightOverTrial }) {
  const host = useHostOffer();
  const onPots = useLightSession((s) => s.overTrial);
  const { days } = light;
  const rows: { name: string; at: Evenness }[] = [];
  if (light.still) rows.push({ name: 'Standing as drawn', at: light.still });
  if (light.rotated) rows.push({ name: 'With the rota', at: light.rotated });
  const save = () => {
    const head = [
      'pot',
      'mean_ppfd_umol_m2_s',
      'mean_dli_mol_m2_d',
      'lowest_ppfd_umol_m2_s',
      'highest_ppfd_umol_m2_s',
      'days',
    ];
    const rows = [...light.pots.values()].map((pot) => [
      potByIdOf(plan).get(pot.potId)?.code ?? pot.potId,
      rounded(pot.ppfdUmol, 1),
      rounded(pot.dliMol, 2),
      rounded(pot.lowestUmol, 1),
      rounded(pot.highestUmol, 1),
      days,
    ]);
    void host.exportText('light-with-rota.csv', 'csv', writeDelimited([head, ...rows]));
  };
  return (
    <>
      <Table
        caption={`Mean light of the pots over ${days} days, guard pots left out`}
        showCaption
        testId="rota-figures"
        rows={rows}
        rowKey={(row) => row.name}
        columns={[
          { key: 'name', head: 'Trays', cell: (row) => row.name },
          { key: 'mean', head: 'PPFD', numeric: true, cell: (row) => fixed(row.at.mean, 0) },
          {
            key: 'range',
            head: 'min–max',
            numeric: true,
            cell: (row) => `${fixed(row.at.min, 0)}–${fixed(row.at.max, 0)}`,
          },
          {
            key: 'even',
            head: 'min : mean',
            numeric: true,
            cell: (row) => (row.at.minToMean === null ? '–' : fixed(row.at.minToMean, 2)),
          },
          {
            key: 'cv',
            head: 'CV',
            unit: '%',
            numeric: true,
            cell: (row) => (row.at.cvPercent === null ? '–' : fixed(row.at.cvPercent, 1)),
          },
        ]}
      />
      <div className="section-actions">
        <Button onClick={save}>Save pot by pot…</Button>
      </div>
      <Checkbox
        label="Show every pot’s mean over the trial on the rack"
        checked={onPots}
        testId="rota-on-pots"
        onCommit={showOverTrial}
      />
    </>
  );
}

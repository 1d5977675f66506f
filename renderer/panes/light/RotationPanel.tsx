import { useState } from 'react';
import type { RotaPeriod, TrayPlace } from '../../../shared-types/light';
import type { Plan } from '../../../shared-types/plan';
import {
  correctionWords,
  lightOverTrialOf,
  potByIdOf,
  regularRota,
  type LightOverTrial,
  type RotaPattern,
} from '../../derive';
import { trayCode } from '../../engine/geometry';
import type { Evenness } from '../../engine/light';
import { placeInRota, setRota } from '../../document/commands';
import { writeDelimited } from '../../tables';
import { useDispatch } from '../../store/context';
import { useHostOffer } from '../../store/hostContext';
import { Button, Checkbox, FieldRow, NumberField, Select, Table, Problem } from '../../ui';
import { showOverTrial, useLightSession } from './lightSession';
import { TrialDaysField, useTrialDays } from './TrialDaysField';
import { fixed, rounded } from '../../words';

/** Trays moved by a rota: the light each pot gets over the whole trial. */
export function RotationPanel({ plan }: { plan: Plan }) {
  const dispatch = useDispatch();
  const [days] = useTrialDays(plan);
  const [everyDays, setEvery] = useState(7);
  const [pattern, setPattern] = useState<RotaPattern>('next');
  const [unmade, setUnmade] = useState<string | null>(null);
  const rota = plan.light.rota ?? [];
  const found = lightOverTrialOf(plan);
  const make = () => {
    const made = regularRota(plan.rack, days, everyDays, pattern);
    const done = dispatch(setRota, { rota: made });
    const short = made.length === 0 ? 'The trial ends before the first move.' : null;
    setUnmade(done.ok ? short : done.reason);
  };
  return (
    <>
      <FieldRow>
        <TrialDaysField plan={plan} />
        <NumberField
          label="Move every"
          unit="days"
          whole
          lowest={1}
          highest={365}
          value={everyDays}
          testId="rota-every"
          onCommit={setEvery}
        />
        <Select
          label="Each tray"
          value={pattern}
          testId="rota-pattern"
          options={[
            { value: 'next', label: 'goes one place on' },
            { value: 'turn', label: 'is turned half round' },
            { value: 'next-and-turn', label: 'both in turn' },
          ]}
          onCommit={setPattern}
        />
      </FieldRow>
      <div className="section-actions">
        <Button data-testid="rota-make" onClick={make}>
          {rota.length > 0 ? 'Make the rota anew' : 'Make a rota'}
        </Button>
        {rota.length > 0 ? (
          <Button data-testid="rota-drop" onClick={() => dispatch(setRota, { rota: [] })}>
            No rota
          </Button>
        ) : null}
      </div>
      <Problem text={rota.length === 0 ? unmade : null} />
      <Problem text={found?.ok === false ? found.reason : null} />
      {found?.ok ? <Outcome plan={plan} light={found.value} /> : null}
      <Problem text={rota.length > 0 ? correctionWords(plan) : null} />
      {rota.length > 0 ? (
        <RotaTable plan={plan} rota={rota} />
      ) : (
        <p className="field-remark">
          A tray goes round among the trays of its size on its shelf; every move can be changed
          afterwards. The rota is kept in the plan. Blocks are drawn by the light as the trays stand
          on the rack.
        </p>
      )}
    </>
  );
}

function Outcome({ plan, light }: { plan: Plan; light: LightOverTrial }) {
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

function RotaTable({ plan, rota }: { plan: Plan; rota: readonly RotaPeriod[] }) {
  const dispatch = useDispatch();
  const trays = plan.rack.shelves.flatMap((shelf) =>
    shelf.trays.map((tray) => ({
      id: tray.id,
      code: trayCode(shelf.number, tray.letter),
      size: `${Math.round(tray.widthMm)} ${Math.round(tray.depthMm)}`,
    })),
  );
  const edit = (period: number, trayId: string, place: TrayPlace) =>
    dispatch(placeInRota, { period, trayId, place });
  return (
    <div className="light-rota" tabIndex={0} role="group" aria-label="Rota of tray moves">
      <table data-testid="rota">
        <thead>
          <tr>
            <th scope="col">Tray</th>
            {rota.map((period) => (
              <th key={period.fromDay} scope="col">
                days {period.fromDay}–{period.toDay}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {trays.map((tray) => (
            <tr key={tray.id}>
              <th scope="row">{tray.code}</th>
              {rota.map((period, i) => {
                const place = period.places[tray.id] ?? { placeOf: tray.id, turned: false };
                const days = `days ${period.fromDay} to ${period.toDay}`;
                return (
                  <td key={period.fromDay}>
                    <select
                      className="input"
                      aria-label={`Place of tray ${tray.code}, ${days}`}
                      value={place.placeOf}
                      onChange={(event) =>
                        edit(i, tray.id, { ...place, placeOf: event.target.value })
                      }
                    >
                      {trays
                        .filter((other) => other.size === tray.size)
                        .map((other) => (
                          <option key={other.id} value={other.id}>
                            {other.code}
                          </option>
                        ))}
                    </select>{' '}
                    <label title="Turned half round">
                      <input
                        type="checkbox"
                        aria-label={`Tray ${tray.code} turned half round, ${days}`}
                        checked={place.turned}
                        onChange={(event) =>
                          edit(i, tray.id, { ...place, turned: event.target.checked })
                        }
                      />
                      ↻
                    </label>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

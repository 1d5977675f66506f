import Papa from 'papaparse';
import { useState } from 'react';
import type { Plan } from '../../../shared-types/plan';
import {
  potByIdOf,
  regularRota,
  rotatedLightOf,
  trayCode,
  type Evenness,
  type RotaPattern,
  type RotaPeriod,
  type RotatedLight,
} from '../../derive';
import { useHostOffer } from '../../store/hostContext';
import { Button, FieldRow, fixed, NumberField, Select, Table } from '../../ui';
import { usableRota, useTrialDays } from './rota';
import { setRota, useLightSitting } from './sitting';

/** Trays moved by a rota: the light each pot gets over the whole trial. */
export function RotationPanel({ plan }: { plan: Plan }) {
  const [days, setDays] = useTrialDays(plan);
  const [everyDays, setEvery] = useState(7);
  const [pattern, setPattern] = useState<RotaPattern>('next');
  const rota = usableRota(
    plan,
    useLightSitting((s) => s.rota),
  );
  const found = rota.length > 0 ? rotatedLightOf(plan, rota, days) : null;
  return (
    <>
      <FieldRow>
        {setDays ? (
          <NumberField
            label="Trial lasts"
            unit="days"
            whole
            lowest={1}
            highest={2000}
            value={days}
            onCommit={setDays}
          />
        ) : null}
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
          options={[
            { value: 'next', label: 'goes one place on' },
            { value: 'turn', label: 'is turned half round' },
            { value: 'next-and-turn', label: 'both in turn' },
          ]}
          onCommit={setPattern}
        />
      </FieldRow>
      <div className="section-actions">
        <Button
          data-testid="rota-make"
          onClick={() => setRota(regularRota(plan.rack, days, everyDays, pattern))}
        >
          Make a rota
        </Button>
        {rota.length > 0 ? <Button onClick={() => setRota([])}>No rota</Button> : null}
      </div>
      {found?.ok === false ? (
        <p className="field-problem" role="alert">
          {found.reason}
        </p>
      ) : null}
      {found?.ok ? <Outcome plan={plan} light={found.value} days={days} /> : null}
      {rota.length > 0 ? (
        <RotaTable plan={plan} rota={rota} />
      ) : (
        <p className="field-remark">
          A tray goes round among the trays of its size on its shelf; every move can be changed
          afterwards. Rotas are tried here and kept in no plan: the trial’s figures count the trays
          as drawn.
        </p>
      )}
    </>
  );
}

function Outcome({ plan, light, days }: { plan: Plan; light: RotatedLight; days: number }) {
  const host = useHostOffer();
  const rows: { name: string; at: Evenness }[] = [];
  if (light.still) rows.push({ name: 'Standing as drawn', at: light.still });
  if (light.rotated) rows.push({ name: 'With the rota', at: light.rotated });
  const save = () => {
    const pots = [...light.pots.values()].map((pot) => ({
      pot: potByIdOf(plan).get(pot.potId)?.code ?? pot.potId,
      mean_ppfd_umol_m2_s: pot.ppfdUmol.toFixed(1),
      mean_dli_mol_m2_d: pot.dliMol.toFixed(2),
      lowest_ppfd_umol_m2_s: pot.lowestUmol.toFixed(1),
      highest_ppfd_umol_m2_s: pot.highestUmol.toFixed(1),
      days,
    }));
    void host.exportText('light-with-rota.csv', 'csv', `${Papa.unparse(pots)}\n`);
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
      <p className="field-remark">Select a pot on the rack to read its own mean with the rota.</p>
    </>
  );
}

function RotaTable({ plan, rota }: { plan: Plan; rota: readonly RotaPeriod[] }) {
  const trays = plan.rack.shelves.flatMap((shelf) =>
    shelf.trays.map((tray) => ({
      id: tray.id,
      code: trayCode(shelf.number, tray.letter),
      size: `${Math.round(tray.widthMm)} ${Math.round(tray.depthMm)}`,
    })),
  );
  const edit = (at: number, trayId: string, place: RotaPeriod['places'][string]) =>
    setRota(
      rota.map((period, i) =>
        i === at ? { ...period, places: { ...period.places, [trayId]: place } } : period,
      ),
    );
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

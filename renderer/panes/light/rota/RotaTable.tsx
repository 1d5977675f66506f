import type { RotaPeriod, TrayPlace } from '../../../../shared-types/light';
import type { Plan } from '../../../../shared-types/plan';
import { placeInRota } from '../../../document/commands';
import { trayCode } from '../../../engine/geometry';
import { useDispatch } from '../../../store/context';

/** Where each tray stands in each period of the rota. */
export function RotaTable({ plan, rota }: { plan: Plan; rota: readonly RotaPeriod[] }) {
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

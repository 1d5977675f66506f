import type { QuickMeasured } from '../../../shared-types/window/quickStart';
import { Section } from '../../ui';
import { ProblemAt, type QuickPart } from './ProblemAt';

const TIMES = [
  ['start', 'start'],
  ['between', 'in between'],
  ['harvest', 'harvest'],
] as const;

/** What is measured when, and which measurement at harvest answers the question. */
export function MeasuredTable(part: QuickPart) {
  const { answers, onChange } = part;
  const { measured, main } = answers;
  const set = (row: QuickMeasured, patch: Partial<QuickMeasured>) =>
    onChange({ measured: measured.map((one) => (one === row ? { ...one, ...patch } : one)) });
  return (
    <Section title="What you will measure" testId="quick-measured">
      <table className="table quick-measured" data-fields="measured">
        <thead>
          <tr>
            <th scope="col">Of each plant</th>
            {TIMES.map(([key, label]) => (
              <th key={key} scope="col">
                {label}
              </th>
            ))}
            <th scope="col">main result</th>
          </tr>
        </thead>
        <tbody>
          {measured.map((row) => (
            <tr key={row.name}>
              <th scope="row">
                {row.name}
                {row.unit !== '' && row.unit !== row.name ? `, ${row.unit}` : ''}
              </th>
              {TIMES.map(([key, label]) => (
                <td key={key}>
                  <input
                    type="checkbox"
                    aria-label={`${row.name}, ${label}`}
                    checked={row[key]}
                    onChange={() => set(row, { [key]: !row[key] })}
                  />
                </td>
              ))}
              <td>
                <input
                  type="radio"
                  name="quick-main"
                  aria-label={`${row.name} at harvest is the main result`}
                  checked={row.harvest && row.name === main}
                  disabled={!row.harvest}
                  onChange={() => onChange({ main: row.name })}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <ProblemAt {...part} field="measured" />
    </Section>
  );
}

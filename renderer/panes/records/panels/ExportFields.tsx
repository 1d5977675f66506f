import type { Plan } from '../../../../shared-types/plan';
import { hasSeveralRuns, runName } from '../../../document/runs';
import type { DecimalMark, Separator } from '../../../tables';
import type { TextEncoding } from '../../../tables/encoding';
import { Select } from '../../../ui';

/** How a table goes out. */
export interface ExportAs {
  shape: 'wide' | 'long';
  separator: Separator;
  decimal: DecimalMark;
  encoding: TextEncoding;
  of: 'shown' | 'all';
}

export const EXPORT_AS_USUAL: ExportAs = {
  shape: 'wide',
  separator: ',',
  decimal: '.',
  encoding: 'utf-8',
  of: 'shown',
};

export function ExportFields(props: { plan: Plan; as: ExportAs; onAs: (as: ExportAs) => void }) {
  const { plan, as, onAs } = props;
  const set = (part: Partial<ExportAs>) => onAs({ ...as, ...part });
  const clash = as.separator === ',' && as.decimal === ',';
  return (
    <div className="records-fields">
      <Select
        label="A line for"
        testId="export-shape"
        value={as.shape}
        options={[
          { value: 'wide', label: 'each pot' },
          { value: 'long', label: 'each pot and measurement' },
        ]}
        onCommit={(shape) => set({ shape })}
      />
      {hasSeveralRuns(plan) ? (
        <Select
          label="Runs"
          testId="export-runs"
          value={as.of}
          options={[
            { value: 'shown', label: `${runName(plan).toLowerCase()} alone` },
            { value: 'all', label: 'all runs that are drawn' },
          ]}
          onCommit={(of) => set({ of })}
        />
      ) : null}
      <Select
        label="Columns separated by"
        testId="export-separator"
        value={as.separator}
        options={[
          { value: ',', label: 'comma' },
          { value: ';', label: 'semicolon' },
          { value: '\t', label: 'tab' },
        ]}
        onCommit={(separator) => set({ separator })}
      />
      <Select
        label="Decimals after"
        testId="export-decimal"
        value={as.decimal}
        options={[
          { value: '.', label: 'point' },
          { value: ',', label: 'comma' },
        ]}
        remark={clash ? 'Numbers are quoted.' : undefined}
        onCommit={(decimal) => set({ decimal })}
      />
      <Select
        label="Encoding"
        testId="export-encoding"
        value={as.encoding}
        options={[
          { value: 'utf-8', label: 'UTF-8' },
          { value: 'utf-8-mark', label: 'UTF-8, with its mark for spreadsheets' },
          { value: 'windows-1252', label: 'Windows-1252, for older programs' },
          { value: 'utf-16', label: 'UTF-16' },
        ]}
        onCommit={(encoding) => set({ encoding })}
      />
    </div>
  );
}

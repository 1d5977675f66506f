import { FieldRow, Select } from '../../../ui';
import { separatorNames, type DecimalMark, type Separator } from '../../../tables';
import type { ImportState } from './useImport';

const SEPARATORS: readonly Separator[] = [',', ';', '\t', '|'];
const MARKS: Record<DecimalMark, string> = { '.': 'point', ',': 'comma' };

/** How the table is written: as found, or as the person says. */
export function ImportFormat({ format }: { format: ImportState['format'] }) {
  const { foundSeparator, foundDecimal } = format;
  return (
    <FieldRow>
      <Select
        label="Columns separated by"
        testId="import-separator"
        value={format.separator}
        options={[
          {
            value: 'auto',
            label: asFound(foundSeparator && separatorNames[foundSeparator]),
          },
          ...SEPARATORS.map((value) => ({ value, label: separatorNames[value] })),
        ]}
        onCommit={format.setSeparator}
      />
      <Select
        label="Decimals after"
        testId="import-decimal"
        value={format.decimal}
        options={[
          { value: 'auto', label: asFound(foundDecimal && MARKS[foundDecimal]) },
          { value: '.', label: MARKS['.'] },
          { value: ',', label: MARKS[','] },
        ]}
        onCommit={format.setDecimal}
      />
    </FieldRow>
  );
}

function asFound(name: string | null): string {
  return name === null ? 'as found' : `as found: ${name}`;
}

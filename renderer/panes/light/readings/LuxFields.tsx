import { useState } from 'react';
import type { LightReading } from '../../../../shared-types/light';
import {
  luxFactors,
  luxSpectra,
  luxSpectrumWords,
  type LuxFactor,
  type LuxSpectrum,
} from '../../../../shared-types/luxSpectra';
import { readSpectrum } from '../../../derive';
import { useHostOffer } from '../../../store/hostContext';
import { FieldRow, NumberField, Select } from '../../../ui';
import { figure } from '../../../words';

/** How lux are read as PPFD. */
export type LuxConversion = Pick<LightReading, 'luxPerPpfd' | 'spectrum' | 'luxRange'>;

export const conversionBy = (
  spectrum: LuxSpectrum,
  { factor, lowest, highest }: LuxFactor,
): LuxConversion => ({ spectrum, luxPerPpfd: factor, luxRange: { lowest, highest } });

/** Whose light was read in lux: with it come the factor and the range that it is published with. */
export function LuxFields(props: {
  conversion: LuxConversion;
  onCommit: (conversion: LuxConversion) => void;
}) {
  const { conversion, onCommit } = props;
  const { spectrum = 'own', luxPerPpfd, luxRange } = conversion;
  const host = useHostOffer();
  const [problem, setProblem] = useState<string | null>(null);
  const fromFile = async () => {
    const opened = await host.open('table');
    if (!opened) return;
    const read = readSpectrum(opened.text);
    setProblem(read.ok ? null : read.problem);
    if (read.ok) onCommit(conversionBy('file', read.factor));
  };
  const choose = (chosen: LuxSpectrum) => {
    setProblem(null);
    const published = luxFactors[chosen];
    if (published) onCommit(conversionBy(chosen, published));
    else if (chosen === 'file') void fromFile();
    else onCommit({ ...conversion, spectrum: chosen });
  };
  return (
    <>
      <Select
        label="Light read"
        testId="lux-spectrum"
        value={spectrum}
        options={luxSpectra.map((value) => ({
          value,
          label: value === 'file' ? `${luxSpectrumWords.file}…` : luxSpectrumWords[value],
        }))}
        remark={remarkOf(conversion)}
        onCommit={choose}
      />
      {problem ? (
        <p className="field-problem" role="alert" data-testid="spectrum-problem">
          {problem}
        </p>
      ) : null}
      {spectrum === 'own' ? (
        <OwnFactor
          factor={luxPerPpfd}
          range={luxRange}
          onCommit={(own) => onCommit({ spectrum: 'own', ...own })}
        />
      ) : null}
    </>
  );
}

/** A typed factor stays within its range: the ends give way to it. */
function OwnFactor(props: {
  factor: number | null;
  range: LightReading['luxRange'];
  onCommit: (own: { luxPerPpfd: number; luxRange: { lowest: number; highest: number } }) => void;
}) {
  const factor = props.factor ?? luxFactors.white.factor;
  const lowest = props.range?.lowest ?? factor;
  const highest = props.range?.highest ?? factor;
  const commit = (luxPerPpfd: number, from: number, to: number) =>
    props.onCommit({
      luxPerPpfd,
      luxRange: { lowest: Math.min(from, luxPerPpfd), highest: Math.max(to, luxPerPpfd) },
    });
  const bounds = { lowest: 0.1, highest: 1000 };
  return (
    <FieldRow>
      <NumberField
        label="lux per PPFD"
        {...bounds}
        value={factor}
        testId="lux-factor"
        onCommit={(value) => commit(value, (lowest / factor) * value, (highest / factor) * value)}
      />
      <NumberField
        label="at least"
        {...bounds}
        highest={factor}
        value={lowest}
        testId="lux-lowest"
        onCommit={(value) => commit(factor, value, highest)}
      />
      <NumberField
        label="at most"
        {...bounds}
        lowest={factor}
        value={highest}
        testId="lux-highest"
        onCommit={(value) => commit(factor, lowest, value)}
      />
    </FieldRow>
  );
}

function remarkOf({ luxPerPpfd, luxRange }: LuxConversion): string | undefined {
  if (luxPerPpfd === null) return undefined;
  const factor = `${figure(luxPerPpfd, 3)} lux to the PPFD`;
  if (!luxRange) return `${factor}; its range is not known.`;
  const { lowest, highest } = luxRange;
  const half = (100 * (highest - lowest)) / 2 / luxPerPpfd;
  return `${factor}, ${figure(lowest, 3)} to ${figure(highest, 3)}: all readings share this ±${figure(half, 2)} %.`;
}

import type { Printer, PrinterFit } from '../../../shared-types/window/printing';
import { EXACT_PRINTER, lostStripMm, RULER, type Paper } from '../../print';
import { useKept } from '../../store/context';
import { Button, FieldList, Fold, Select, TextField, type FieldOf } from '../../ui';
import { rounded, say, type UnitSystem } from '../../words';
import { chosenFit, PRINTERS, type Printers } from './kept';

/** What is typed of a printer: how long the bars came out, and how far labels lie off. */
interface Measured {
  acrossMm: number;
  downMm: number;
  shiftXMm: number;
  shiftYMm: number;
}

/** The printers of this computer: which is used, and what was measured on its paper. */
export function PrinterChoices(props: { paper: Paper; system: UnitSystem }) {
  const { paper, system } = props;
  const [printers, setPrinters] = useKept(PRINTERS);
  const { chosen, list } = printers;
  const fit = chosenFit(printers);
  const change = (part: Partial<Printer>) => setPrinters(changed(printers, part));
  const lost = lostStripMm(paper, fit);
  return (
    <Fold
      title={`Printer: ${chosen}, ${fitWords(fit)}`}
      className="fold chart-printer"
      testId="printer"
    >
      <div className="chart-choices">
        <Select
          label="Printer"
          value={chosen}
          options={list.map(({ name }) => ({ value: name, label: name }))}
          onCommit={(name) => setPrinters({ ...printers, chosen: name })}
          testId="printer-chosen"
        />
        <TextField
          label="Name"
          value={chosen}
          longest={40}
          onCommit={(name) => change({ name })}
          testId="printer-name"
        />
        <Button onClick={() => setPrinters(withAnother(printers))} data-testid="printer-add">
          Add a printer
        </Button>
        <Button tone="quiet" onClick={() => setPrinters(withoutChosen(printers))}>
          Remove this printer
        </Button>
      </div>
      <FieldList<Measured>
        of={measuredOf(fit, system)}
        fields={fieldsOf(system)}
        system={system}
        className="chart-choices"
        onChange={(part) => change({ fit: fitOf({ ...measuredOf(fit, system), ...part }, system) })}
      />
      <p className="chart-remark">
        {lost > 0
          ? `This printer leaves ${say('length', system, rounded(lost, 1))} blank along an edge: what lies nearer to it is lost.`
          : 'Print “Label calibration”, measure its two bars, and type what you read. It is kept on this computer.'}
      </p>
    </Fold>
  );
}

const measuredOf = (fit: PrinterFit, system: UnitSystem): Measured => ({
  acrossMm: fit.scaleX * RULER[system].mm,
  downMm: fit.scaleY * RULER[system].mm,
  shiftXMm: fit.shiftXMm,
  shiftYMm: fit.shiftYMm,
});

const fitOf = ({ acrossMm, downMm, ...shift }: Measured, system: UnitSystem): PrinterFit => ({
  ...shift,
  scaleX: rounded(acrossMm / RULER[system].mm, 6),
  scaleY: rounded(downMm / RULER[system].mm, 6),
});

function fieldsOf(system: UnitSystem): readonly FieldOf<Measured>[] {
  const { mm, words } = RULER[system];
  const bar = { as: 'length', lowestMm: 0.9 * mm, highestMm: 1.1 * mm } as const;
  const shift = { as: 'length', lowestMm: -10, highestMm: 10 } as const;
  return [
    { key: 'acrossMm', label: `Bar across (${words})`, testId: 'printer-across', ...bar },
    { key: 'downMm', label: `Bar down (${words})`, testId: 'printer-down', ...bar },
    { key: 'shiftXMm', label: 'Shift labels right', ...shift },
    { key: 'shiftYMm', label: 'Shift labels down', ...shift },
  ];
}

function fitWords({ scaleX, scaleY, shiftXMm, shiftYMm }: PrinterFit): string {
  const scaled = scaleX !== 1 || scaleY !== 1;
  const shifted = shiftXMm !== 0 || shiftYMm !== 0;
  if (scaled && shifted) return 'scale and shift corrected';
  if (scaled) return 'scale corrected';
  return shifted ? 'shift corrected' : 'prints as it is told';
}

function changed({ chosen, list }: Printers, part: Partial<Printer>): Printers {
  const name = part.name === undefined ? chosen : freeName(part.name, list, chosen);
  return {
    chosen: name,
    list: list.map((printer) =>
      printer.name === chosen ? { ...printer, ...part, name } : printer,
    ),
  };
}

function withAnother({ list }: Printers): Printers {
  const name = freeName('another printer', list);
  return { chosen: name, list: [...list, { name, fit: EXACT_PRINTER }] };
}

function withoutChosen({ chosen, list }: Printers): Printers {
  const rest = list.filter(({ name }) => name !== chosen);
  const [first] = rest;
  return first ? { chosen: first.name, list: rest } : PRINTERS.initial;
}

/** The name, with a number where another printer has it. */
function freeName(name: string, list: readonly Printer[], own: string | null = null): string {
  const taken = new Set(list.map((printer) => printer.name).filter((other) => other !== own));
  if (!taken.has(name)) return name;
  for (let n = 2; ; n++) {
    const numbered = `${name.slice(0, 36)} ${n}`;
    if (!taken.has(numbered)) return numbered;
  }
}

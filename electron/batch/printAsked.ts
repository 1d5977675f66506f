import type { Paper } from '../../shared-types/paper';
import {
  labelContents,
  labelSheetSchema,
  printerFitSchema,
  symbolKinds,
  type LabelGeometry,
} from '../../shared-types/window/printing';
import type { Plan } from '../../shared-types/plan';
import { trayCode } from '../../renderer/engine/geometry';
import { defaultOptions, labelPresets, plainLabels, type PrintOptions } from '../../renderer/print';
import { BatchError } from './batchError';
import { checked, parseJson } from './inputs';
import type { OptionKind, VerbArguments } from './verb';

/** Everything that the screen lets a person choose about pages. */
type Chosen =
  | Exclude<keyof PrintOptions, 'labels' | 'printer'>
  | keyof PrintOptions['labels']
  | keyof PrintOptions['printer'];

/** By what option each of it is asked for here: a choice more on the screen is named by the compiler. */
export const optionFor = {
  paper: 'paper',
  blinded: 'blinded',
  behind: 'behind',
  log: 'log',
  previous: 'no-previous',
  measurementIds: 'measurements',
  trayIds: 'trays',
  geometry: 'labels',
  show: 'show',
  symbol: 'symbol',
  startCell: 'first-cell',
  scaleX: 'scale-across',
  scaleY: 'scale-down',
  shiftXMm: 'shift-right',
  shiftYMm: 'shift-down',
} as const satisfies Record<Chosen, string>;

const value = (name: string): OptionKind => ({ value: name, needed: false });

export const printChoices: Readonly<
  Record<(typeof optionFor)[keyof typeof optionFor], OptionKind>
> = {
  paper: value('A4|Letter'),
  blinded: 'flag',
  behind: 'flag',
  log: 'flag',
  'no-previous': 'flag',
  measurements: value('NAME,NAME'),
  trays: value('TRAY,TRAY'),
  labels: value('PRESET|JSON'),
  show: value('treatment|pot'),
  symbol: value('qr|data-matrix|none'),
  'first-cell': value('N'),
  'scale-across': value('PERCENT'),
  'scale-down': value('PERCENT'),
  'shift-right': value('MM'),
  'shift-down': value('MM'),
};

/** The choices of a call. Throws a BatchError on one that cannot be. */
export function printOptionsAsked(plan: Plan, paper: Paper, args: VerbArguments): PrintOptions {
  const asked = (chosen: Chosen) => args.optional(optionFor[chosen]);
  const flag = (chosen: Chosen) => args.flag(optionFor[chosen]);
  return {
    ...defaultOptions(paper),
    blinded: flag('blinded'),
    behind: flag('behind'),
    log: flag('log'),
    previous: !flag('previous'),
    measurementIds: measurementsAsked(plan, asked('measurementIds')),
    trayIds: traysAsked(plan, asked('trayIds')),
    labels: {
      geometry: labelsAsked(paper, asked('geometry')),
      show: oneOf('show', asked('show') ?? 'treatment', labelContents),
      symbol: oneOf('symbol', asked('symbol') ?? 'qr', symbolKinds),
      startCell: numberAsked('first-cell', asked('startCell') ?? '1'),
    },
    printer: {
      scaleX: scaleAsked('scale-across', asked('scaleX')),
      scaleY: scaleAsked('scale-down', asked('scaleY')),
      shiftXMm: shiftAsked('shift-right', asked('shiftXMm')),
      shiftYMm: shiftAsked('shift-down', asked('shiftYMm')),
    },
  };
}

/** The ids of the trays after --trays, by their codes; null: all. */
function traysAsked(plan: Plan, text: string | undefined): string[] | null {
  if (text === undefined) return null;
  const idOf = new Map(
    plan.rack.shelves.flatMap(({ number, trays }) =>
      trays.flatMap(({ id, letter, grid }) =>
        grid ? [[trayCode(number, letter), id] as const] : [],
      ),
    ),
  );
  return text.split(',').map((word) => {
    const id = idOf.get(word.trim().toUpperCase());
    if (id !== undefined) return id;
    const codes = [...idOf.keys()].join(', ');
    throw new BatchError('--trays', `found ${word}`, `expected one or more of ${codes}`);
  });
}

function oneOf<T extends string>(option: string, text: string, known: readonly T[]): T {
  const found = known.find((one) => one === text);
  if (found !== undefined) return found;
  throw new BatchError(`--${option}`, `found ${text}`, `expected one of ${known.join(', ')}`);
}

function numberAsked(option: string, text: string): number {
  const number = Number(text);
  if (text.trim() !== '' && Number.isFinite(number)) return number;
  throw new BatchError(`--${option}`, `found ${text}`, 'expected a number');
}

/** How far the printer shifts, mm, within what the screen takes. */
function shiftAsked(option: string, text: string | undefined): number {
  const shift = numberAsked(option, text ?? '0');
  if (printerFitSchema.shape.shiftXMm.safeParse(shift).success) return shift;
  throw new BatchError(`--${option}`, `found ${shift}`, 'expected -10 to 10 mm');
}

/** How long the printer draws what should be 100, as a share. */
function scaleAsked(option: string, text: string | undefined): number {
  const percent = numberAsked(option, text ?? '100');
  if (printerFitSchema.shape.scaleX.safeParse(percent / 100).success) return percent / 100;
  throw new BatchError(`--${option}`, `found ${percent}`, 'expected 90 to 110 %');
}

/** The ids of the measurements after --measurements, by name or timepoint; null: all. */
function measurementsAsked(plan: Plan, text: string | undefined): string[] | null {
  if (text === undefined) return null;
  const measurements = plan.trial?.measurements ?? [];
  return text.split(',').flatMap((part) => {
    const word = part.trim().toLowerCase();
    const found = measurements.filter(
      ({ name, timepoint }) => name.toLowerCase() === word || timepoint === word,
    );
    if (found.length > 0) return found.map(({ id }) => id);
    const names = measurements.map(({ name }) => name).join(', ');
    throw new BatchError(
      '--measurements',
      `found ${part}`,
      `expected start, interim, harvest or one or more of ${names}`,
    );
  });
}

/** A sheet's own figures: gaps, shape and lines to cut along need not be told. */
const ownSheetSchema = labelSheetSchema.extend({
  gapXMm: labelSheetSchema.shape.gapXMm.default(0),
  gapYMm: labelSheetSchema.shape.gapYMm.default(0),
  shape: labelSheetSchema.shape.shape.default('rectangle'),
  cutLines: labelSheetSchema.shape.cutLines.default(false),
});

/** The sheet of labels after --labels, by name or by its figures; plain paper where it is not said. */
function labelsAsked(paper: Paper, text: string | undefined): LabelGeometry {
  if (text === undefined) return plainLabels(paper);
  if (text.trimStart().startsWith('{')) {
    return checked('--labels', parseJson('--labels', text), ownSheetSchema);
  }
  const known = labelPresets.filter((preset) => preset.paper === paper);
  const found = known.find(({ id }) => id === text || id === `${paper}-${text}`);
  if (found) return found.geometry;
  const names = known.map(({ id }) => id).join(', ');
  throw new BatchError('--labels', `found ${text}`, `expected one of ${names}`);
}

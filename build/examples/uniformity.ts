import { importValues } from '../../renderer/document/commands';
import { emptyPlan } from '../../renderer/document/new';
import { matchTable, toValues } from '../../renderer/document/records';
import { readTable } from '../../renderer/tables';
import type { Plan } from '../../shared-types/plan';
import type { Tray } from '../../shared-types/rack';

function basin(number: number): Tray {
  return {
    id: `t${10 + number}`,
    letter: 'ABCD'.charAt(number - 1),
    xMm: 15 + ((number - 1) % 2) * 295,
    yMm: 15 + Math.floor((number - 1) / 2) * 295,
    widthMm: 275,
    depthMm: 275,
    rimHeightMm: 80,
    grid: {
      pattern: 'square',
      rows: 10,
      columns: 10,
      pitchXMm: 25,
      pitchYMm: 25,
      potDiameterMm: 22,
      potHeightMm: 60,
      firstXMm: 25,
      firstYMm: 25,
      guardRing: false,
      guards: [],
      empty: [],
    },
  };
}

/**
 * The published example: radishes grown alike in four basins of 10 × 10, 25 mm apart, weighed one
 * by one (Heath, O. V. S. (1970) Investigation by Experiment, Table 1). No treatment was given, so
 * whatever differs is place or chance. The weights come in through the table import.
 */
export function uniformityPlan(): Plan {
  return {
    ...emptyPlan('Radishes grown alike in four basins'),
    notes:
      'Weights from Heath, O. V. S. (1970), Investigation by Experiment, Table 1. The rack is ' +
      'drawn here only to give the plants their places; the book does not describe one.',
    nextId: 100,
    rack: {
      shelves: [
        {
          id: 's1',
          number: 1,
          widthMm: 600,
          depthMm: 600,
          heightMm: 300,
          clearanceMm: 500,
          ratedLoadKg: null,
          canopy: { plantingMm: 60, harvestMm: 150 },
          reflectances: { above: 0, canopy: 0.08, front: 0, back: 0, left: 0, right: 0 },
          trays: [1, 2, 3, 4].map(basin),
          lamps: [],
        },
      ],
      lampKinds: [],
    },
    trial: {
      question: 'All plants were treated alike: how much do they differ by place alone?',
      factors: [],
      measurements: [
        {
          id: 'm60',
          name: 'Fresh weight',
          kind: 'weight',
          unit: 'g',
          decimals: 1,
          timepoint: 'harvest',
          date: null,
          lowest: 0,
          highest: 40,
        },
      ],
      blocks: { by: 'tray' },
      scheme: 'complete-blocks',
      constraint: { acceptanceShare: 1, balance: [], likeNeighbours: null },
      startDate: null,
      harvestDate: null,
      alpha: 0.05,
      primaryOutcomeId: 'm60',
      primaryIndex: 'final',
      primaryPosition: 'edge',
      startCovariate: false,
      expected: null,
    },
  };
}

/** The published table as a person would type it: one line a plant, by pot code. */
export function uniformityCsv(published: string): string {
  const lines = published.trim().split(/\r?\n/).slice(1);
  const letters = 'ABCDEFGHJK';
  const rows = lines.map((line) => {
    const [row = '', column = '', basin = '', weight = ''] = line.split(',');
    const tray = 'ABCD'.charAt(Number(basin.slice(1)) - 1);
    return `1${tray}-${letters.charAt(Number(row) - 1)}${column},${weight === 'NA' ? '' : weight}`;
  });
  return ['Pot,Fresh weight', ...rows].join('\n') + '\n';
}

/** The plan with the published weights, taken over as the screen's import would. */
export function uniformityExample(published: string): Plan {
  const plan = uniformityPlan();
  const read = readTable(uniformityCsv(published));
  if (!read.ok) throw new Error(read.problem);
  const preview = matchTable(plan, read.table);
  if (preview.problem !== null || preview.rows.length > 0) {
    throw new Error(preview.problem ?? `line ${preview.rows[0]?.line ?? '?'} matches no pot`);
  }
  const { values } = toValues(preview, false);
  const missing = preview.cells.filter((cell) => cell.outcome.kind === 'blank');
  const taken = importValues.run(plan, { values });
  const marks = Object.fromEntries(
    missing.flatMap((cell) =>
      cell.potId
        ? [[cell.potId, { mark: 'missing' as const, date: null, reason: 'missing in the book' }]]
        : [],
    ),
  );
  return { ...taken, records: { ...taken.records, marks } };
}

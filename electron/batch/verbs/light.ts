import Papa from 'papaparse';
import { potLightOf, potsOf } from '../../../renderer/derive';
import { trayCode } from '../../../renderer/engine/geometry';
import type { LightSummary } from '../../../renderer/engine/light';
import { readPlanFile } from '../inputs';
import { Text, type Verb } from '../verb';

export const lightVerb: Verb = {
  name: 'light',
  gives: 'PPFD and DLI at every pot, and the evenness of every shelf and tray.',
  takes: ['PLAN'],
  options: { csv: 'flag' },
  async run(args) {
    const plan = await readPlanFile(args.positional('PLAN'));
    const light = potLightOf(plan);
    const shelfNumber = new Map(plan.rack.shelves.map((shelf) => [shelf.id, shelf.number]));
    const pots = potsOf(plan).flatMap((pot) => {
      const value = light.pots.get(pot.id);
      if (!value) return [];
      return [
        {
          pot: pot.code,
          shelf: shelfNumber.get(pot.shelfId) ?? null,
          tray: pot.code.split('-')[0] ?? '',
          x_mm: pot.xMm,
          y_mm: pot.yMm,
          ppfd_umol_m2_s: value.ppfdUmol,
          dli_mol_m2_d: value.dliMol,
          source: value.source,
        },
      ];
    });
    if (args.flag('csv')) return new Text(`${Papa.unparse(pots, { newline: '\n' })}\n`);
    return {
      pots,
      shelves: plan.rack.shelves.flatMap((shelf) => {
        const summary = light.shelves.get(shelf.id);
        return summary ? [{ shelf: shelf.number, ...figures(summary) }] : [];
      }),
      trays: plan.rack.shelves.flatMap((shelf) =>
        shelf.trays.flatMap((tray) => {
          const summary = light.trays.get(tray.id);
          return summary
            ? [{ tray: trayCode(shelf.number, tray.letter), ...figures(summary) }]
            : [];
        }),
      ),
      problems: Object.fromEntries(
        [...light.problems].map(([id, text]) => [`shelf ${shelfNumber.get(id) ?? id}`, text]),
      ),
    };
  },
};

function figures(summary: LightSummary) {
  const e = summary.evenness;
  return {
    height_mm: summary.heightMm,
    source: summary.source,
    pots: e?.n ?? 0,
    mean: e?.mean ?? null,
    min: e?.min ?? null,
    max: e?.max ?? null,
    min_to_mean: e?.minToMean ?? null,
    min_to_max: e?.minToMax ?? null,
    cv_percent: e?.cvPercent ?? null,
    share_within_10_percent: e?.shareWithin10Percent ?? null,
  };
}

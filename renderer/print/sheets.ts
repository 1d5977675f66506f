import type { Plan } from '../../shared-types/plan';
import type { Measurement } from '../../shared-types/trial';
import { potsOf } from '../derive';
import { walkingOrder, type Pot } from '../engine/geometry';
import type { Page } from './document';
import { printable, type Paper } from './paper';
import { escape } from './text';

const MOMENTS = ['start', 'interim', 'harvest'] as const;
const MOMENT_WORDS = { start: 'start', interim: 'in between', harvest: 'harvest' } as const;
const ROW_MM = 7;

/** Recording sheets: a line a pot in walking order, room to write, one sheet set a moment. */
export function sheetPages(plan: Plan, paper: Paper): Page[] {
  const trial = plan.trial;
  if (!trial) return [];
  const pots = walkingOrder(potsOf(plan)).filter((pot) => !pot.guard);
  const room = printable({ paper, wide: false });
  const perColumn = Math.floor((room.height - 34) / ROW_MM);
  return MOMENTS.flatMap((moment) => {
    const measurements = trial.measurements.filter((m) => m.moment === moment);
    if (measurements.length === 0) return [];
    const halves = measurements.length <= 2 ? 2 : 1;
    const pages: Page[] = [];
    for (const trayPots of byTray(pots)) {
      const perPage = perColumn * halves;
      for (let from = 0; from < trayPots.length; from += perPage) {
        const part = trayPots.slice(from, from + perPage);
        const columns = Array.from({ length: halves }, (_, i) =>
          part.slice(i * perColumn, (i + 1) * perColumn),
        ).filter((column) => column.length > 0);
        const tray = trayPots[0]?.code.split('-')[0] ?? '';
        pages.push({
          sheet: { paper, wide: false },
          heading: `Recording sheet, ${MOMENT_WORDS[moment]}, tray ${tray}`,
          body: `<style>.halves{display:grid;grid-template-columns:repeat(${halves},1fr);gap:8mm}.write td{height:${ROW_MM}mm;padding:0 1mm 0 0}.write .blank{border:.2mm solid #000}.write .code{font-size:11pt;font-weight:700;white-space:nowrap}</style><p>Date ____________ &nbsp; Recorded by ______________________ &nbsp; Walk along the rows as listed; every second row runs backwards.</p><div class="halves">${columns.map((column) => columnHtml(column, measurements)).join('')}</div>`,
        });
      }
    }
    return pages;
  });
}

function byTray(pots: readonly Pot[]): Pot[][] {
  const trays = new Map<string, Pot[]>();
  for (const pot of pots) trays.set(pot.trayId, [...(trays.get(pot.trayId) ?? []), pot]);
  return [...trays.values()];
}

function columnHtml(
  pots: readonly { code: string }[],
  measurements: readonly Measurement[],
): string {
  const heads = measurements
    .map((m) => `<th>${escape(m.name)}${m.unit ? `, ${escape(m.unit)}` : ''}</th>`)
    .join('');
  const rows = pots
    .map(
      (pot) =>
        `<tr><td class="code">${escape(pot.code)}</td>${measurements.map(() => '<td class="blank"></td>').join('')}<td class="blank" style="width:14mm"></td></tr>`,
    )
    .join('');
  return `<table class="write"><thead><tr><th>Pot</th>${heads}<th>Note</th></tr></thead><tbody>${rows}</tbody></table>`;
}

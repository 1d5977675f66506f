import type { Notice } from '../../../../shared-types/notice';
import type { Plan } from '../../../../shared-types/plan';
import type { Findings } from '../../../engine/findings';
import { html, type Fragment } from '../../html';
import { listHtml, pairHtml, paragraphsHtml, tableHtml } from '../parts';
import { plantsTable } from '../plantsTable';
import { sayDay } from '../../../words';

/** Cautions of one kind that are printed in full. */
const MOST_ALIKE = 5;

/** Notices that stand open, and those accepted with their reasons. */
export function cautionsHtml(notices: readonly Notice[]): Fragment {
  const open = notices.filter((n) => n.accepted === undefined && n.severity !== 'note');
  const accepted = notices.filter((n) => n.accepted !== undefined);
  return [
    open.length > 0
      ? listHtml(
          sampled(open).map((n) =>
            typeof n === 'string'
              ? n
              : `${n.severity === 'stop' ? 'Not to be relied on: ' : ''}${n.text}`,
          ),
        )
      : paragraphsHtml(['No notice stands open.']),
    accepted.length > 0 &&
      html`<p>Accepted, with the reason given:</p>${listHtml(accepted.map((n) => `${n.text} Accepted because: ${n.accepted ?? ''}`))}`,
  ];
}

/** A few notices of each kind, and how many more there are of it. */
function sampled(notices: readonly Notice[]): (Notice | string)[] {
  const kinds = [...new Set(notices.map((n) => n.kind))];
  return kinds.flatMap((kind) => {
    const own = notices.filter((n) => n.kind === kind);
    const more = own.length - MOST_ALIKE;
    if (more <= 1) return own;
    return [...own.slice(0, MOST_ALIKE), `… and ${more} more of this kind.`];
  });
}

/** Incidents of the trial and the pots that are not in the analysis. */
export function incidentsHtml(plan: Plan | null, findings: Findings): Fragment {
  const incidents = [...(plan?.records.incidents ?? [])].sort((a, b) =>
    a.date.localeCompare(b.date),
  );
  const left = findings.leftOut.map(({ pot, why }) => {
    const mark = plan?.records.marks[pot.id];
    const reason = mark?.reason ? `: ${mark.reason}` : '';
    return `${pot.code}, ${why.replace('-', ' ')}${mark?.date ? ` ${sayDay(mark.date)}` : ''}${reason}`;
  });
  return pairHtml(
    [
      incidents.length > 0
        ? [
            listHtml(incidents.map((i) => `${sayDay(i.date)}: ${i.text}`)),
            incidents.map(({ date, text, photo }) =>
              photo === undefined
                ? null
                : html`<figure class="photo"><img src="${photo}" alt="${text}"><figcaption>${sayDay(date)}: ${text}</figcaption></figure>`,
            ),
          ]
        : paragraphsHtml(plan ? ['No incident was logged.'] : []),
      paragraphsHtml([
        left.length > 0
          ? `Pots left out of the analysis: ${left.join('; ')}.`
          : 'No pot was left out.',
      ]),
    ],
    tableHtml(plantsTable(findings)),
  );
}

import { importValues } from '../../../renderer/document/commands';
import { unitsAskedBy } from '../../../renderer/derive/records/recordNotices';
import { withTrail } from '../../../renderer/document/edits/trail';
import { writePlan } from '../../../renderer/document/open';
import {
  keptHeads,
  leftOutOf,
  matchSheet,
  toValues,
  type TableQuestion,
} from '../../../renderer/document/records';
import { entryActSchema, type EntryAct } from '../../../shared-types/records';
import { BatchError } from '../batchError';
import { readPlanFile } from '../inputs';
import { refuseFile, refuseInput, writeResult } from '../output';
import { recordReport } from '../recordReport';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import type { Verb } from '../verb';
import { logOfTable } from '../logTable';
import { saidIn, sheetsIn, theSheet } from '../tableSheets';

export const recordVerb: Verb = {
  name: 'record',
  gives:
    'The plan with the values of a table in it (CSV, .xlsx or .ods, as growers keep them), and what ' +
    'became of each cell. COLUMNS: what heads are that name nothing in the plan, {"FW": "Fresh weight"}. ' +
    'Where a person has to be asked nothing is written, unless --accept-doubtful. --delivered: the ' +
    'table is of a logger, its EC, pH, temperature, lamp hours and PPFD go into the log of what was ' +
    'delivered, a figure a day and unit. UNITS: which units of the rack its names are, ' +
    '{"Probe 1": "shelf 1"}; "" is the name of lines without one.',
  takes: ['PLAN'],
  options: {
    table: { value: 'FILE', needed: true, reads: true },
    sheet: { value: 'NAME', needed: false },
    columns: { value: 'JSON', needed: false },
    header: { value: 'LINE', needed: false },
    dates: { value: 'day-first|month-first', needed: false },
    delivered: 'flag',
    units: { value: 'UNITS', needed: false },
    'accept-doubtful': 'flag',
    by: { value: 'INITIALS', needed: false },
    out: { value: 'NEWPLAN', needed: true },
    ...runOption,
  },
  async run(args) {
    const out = args.needed('out');
    await refuseInput(`--out ${out}`, out, args.inputs);
    await refuseFile({ option: 'out', path: out });
    const plan = inRunAsked(await readPlanFile(args.positional('PLAN')), args.optional('run'));
    const path = args.needed('table');
    const sheets = await sheetsIn(path);
    if (args.flag('delivered')) {
      const logged = logOfTable(plan, path, sheets, args);
      await writeResult({ option: 'out', path: out }, writePlan(logged.plan));
      return { ...runInResult(plan), ...logged.report };
    }
    if (args.optional('units') !== undefined) {
      throw new BatchError('--units', 'found without --delivered', 'expected with it');
    }
    const said = saidIn(args);
    const { sheet, matched } = theSheet(path, sheets, args.optional('sheet'), {
      match: (one) => matchSheet(plan, one, said),
      isUseful: ({ preview: { problem } }) => problem === null,
      holds: 'values of the plan',
    });
    const { preview } = matched;
    const taking = toValues(preview, true);
    const units = unitsAskedBy(plan, taking.values).map((text): TableQuestion => {
      const found = text.replace(/\.$/, '');
      return { about: 'units', found, expected: 'one unit for a measurement is expected' };
    });
    const asked = [...matched.questions, ...units].map(
      ({ about, found, expected }): TableQuestion => ({ about, found, expected }),
    );
    const [first] = asked;
    if (first && (preview.problem !== null || !args.flag('accept-doubtful'))) {
      const rest = asked.length > 1 ? ` (${asked.length - 1} more to be asked)` : '';
      throw new BatchError(`${path}, ${first.about}`, `${first.found}${rest}`, first.expected);
    }
    if (Object.values(taking).every((values) => values.length === 0)) {
      const [reason] = leftOutOf(preview);
      const found = reason ? `line ${reason.line}, ${reason.why}` : 'it holds no value';
      throw new BatchError(
        path,
        `nothing can be taken over: ${found}`,
        'values of the plan are expected',
      );
    }
    const taken = importValues.run(plan, { ...taking, heads: keptHeads(plan, matched) });
    const done = withTrail(plan, taken, actBy(args.optional('by')));
    const report = {
      ...runInResult(plan),
      sheet: sheet.name,
      ...recordReport(plan, matched),
      asked,
    };
    await writeResult({ option: 'out', path: out }, writePlan(done));
    return report;
  },
};

function actBy(initials: string | undefined): EntryAct {
  const act = entryActSchema.safeParse({
    at: new Date(Math.floor(Date.now() / 60_000) * 60_000).toISOString(),
    ...(initials === undefined ? {} : { by: initials }),
  });
  if (!act.success) throw new BatchError('--by', `found ${initials}`, 'expected 1 to 8 letters');
  return act.data;
}

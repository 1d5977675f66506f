import type { Findings } from '../findings';
import { noDifference, saidDifference, saidInterval } from '../model/scale';
import type { Statement } from './statement';
import { percentOf, saidP } from '../../../words';

export function contrastStatements(findings: Findings): Statement[] {
  const rows = findings.primary.result.contrasts;
  const added = rows.filter((row) => !isFixedBefore(findings, row));
  return rows.map((row) => {
    const factor = findings.design.tested.find((role) => role.column === row.of)?.factor;
    const figures =
      `${saidDifference(findings, row.estimate, row)} (${percentOf(findings)} interval ` +
      `${saidInterval(findings, row.lower, row.upper)}, ${saidP(row.p, findings.alpha)})`;
    const fixed = isFixedBefore(findings, row);
    const which = fixed ? 'The planned comparison' : 'The comparison';
    const note =
      row === added.at(-1)
        ? ` ${added.length === 1 ? 'It was' : 'These comparisons were'} not fixed in the plan before harvest.`
        : '';
    const name = `${which} ${row.name} of ${factor?.name ?? row.of}`;
    const none = `differ from ${noDifference(findings) === 0 ? 'zero' : 'a ratio of 1'}`;
    return {
      about: 'contrast',
      of: factor?.name ?? row.of,
      text:
        row.p < findings.alpha
          ? `${name} is ${figures}.${note}`
          : `${name} is not shown to ${none}: ${figures}.${note}`,
    };
  });
}

/** Whether a comparison stood in the plan when its rule was fixed, before the first value. */
export function isFixedBefore(findings: Findings, row: { name: string; of: string }): boolean {
  const role = findings.design.tested.find(({ column }) => column === row.of);
  const contrast = role?.factor.contrasts?.find(({ name }) => name === row.name);
  const { analysisLocked } = findings;
  const before =
    analysisLocked !== null && analysisLocked !== 'table' && analysisLocked.valuesThen === 0;
  return before && contrast?.preSpecified === true;
}

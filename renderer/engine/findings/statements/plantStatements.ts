import { unitWords } from '../../../../shared-types/trial/trial';
import type { Findings } from '../findings';
import { plantsWords } from '../plants';
import type { FactorRole } from '../model/roles';
import { SCALE_WORDS } from '../model/scale';
import type { Statement } from './statement';
import { unitMismatchWords } from '../refused/unitMismatches';
import { averagedWords } from '../model/unitMeans';
import { leftOutWords } from '../refused/whyNotAnalysable';
import { capital, list, plural, said } from '../../../words';

export function unplannedStatements({ unplanned, multiplicity }: Findings): Statement[] {
  return [unplanned, multiplicity].flatMap((text) =>
    text === null ? [] : [{ about: 'pots', text }],
  );
}

export function potsStatement(findings: Findings): Statement {
  const { averaged, plannedModel, pots, leftOut } = findings;
  const parts = leftOutWords(findings);
  const left = parts === '' ? '' : `; left out: ${parts}`;
  const scale = findings.scale === null ? '' : ` as ${SCALE_WORDS[findings.scale]}`;
  const [done, n] = averaged
    ? ['counted', pots.length - leftOut.length]
    : [`analysed${scale}`, findings.primary.result.n];
  const text = `${capital(findings.response.name)} was ${done} for ${n} of ${plural(pots.length, 'pot')}${left}.`;
  const means = averaged ? averagedWords(averaged, plannedModel) : [];
  const all = [text, ...means, ...plantsWords(findings), ...findings.unused];
  return { about: 'pots', text: all.join(' ') };
}

/** Levels of which nothing can be said, so that their silence is not taken for a result. */
export function lostStatements(findings: Findings): Statement[] {
  return findings.lost.map(({ factor, levels }) => {
    const left =
      findings.roles.find((role) => role.factor.name === factor)?.unitsPerLevel.size ?? 0;
    const those = levels.length === 1 ? 'that level' : 'those levels';
    const so =
      left > 1
        ? `nothing is said about ${those} of ${factor}`
        : `levels of ${factor} cannot be compared`;
    return {
      about: 'factor',
      of: factor,
      text: `No pot with ${list(levels)} has a value that can be used, so ${so}.`,
    };
  });
}

export function unitMismatchStatements({ unitMismatches }: Findings): Statement[] {
  return unitMismatches.map((mismatch) => {
    const { text, remedy } = unitMismatchWords(mismatch);
    return { about: 'factor', of: mismatch.factor, text: `${text} ${remedy}` };
  });
}

export function notReplicatedStatement(findings: Findings, role: FactorRole): Statement {
  const rows = findings.described.find((d) => d.factor === role.factor.name)?.rows ?? [];
  const means = rows.map((row) => `${row.level} ${said(row.mean, findings.response.unit)}`);
  const { one, many } = unitWords[role.unit];
  return {
    about: 'factor',
    of: role.factor.name,
    text:
      `${capital(role.factor.name)} is not replicated: each level sits on one ${one} only ` +
      `(means ${list(means)}). A difference between these ${many} could be the ${many} themselves, ` +
      `so no test is made and nothing is concluded about ${role.factor.name}.`,
  };
}

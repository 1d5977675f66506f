import type { Findings } from '../findings';
import {
  checkStatements,
  edgeStatements,
  gradientStatements,
  lightStatements,
  positionStatements,
} from './positionStatements';
import { runStatements } from './runStatements';
import type { Statement } from './statement';
import { contrastStatements } from './contrastStatements';
import { factorStatement, interactionStatements, scoreStatements } from './factorStatements';
import {
  lostStatements,
  notReplicatedStatement,
  potsStatement,
  unitMismatchStatements,
  unplannedStatements,
} from './plantStatements';

/**
 * The findings in words. A sentence says no more than its figures do: where a difference is not
 * shown, it says which differences the interval still allows.
 */
export function statements(findings: Findings): Statement[] {
  return [
    ...unplannedStatements(findings),
    potsStatement(findings),
    ...runStatements(findings),
    ...lostStatements(findings),
    ...unitMismatchStatements(findings),
    ...findings.design.notReplicated.map((role) => notReplicatedStatement(findings, role)),
    ...findings.design.tested.map((role) => factorStatement(findings, role)),
    ...scoreStatements(findings),
    ...interactionStatements(findings),
    ...contrastStatements(findings),
    ...edgeStatements(findings),
    ...gradientStatements(findings),
    ...lightStatements(findings),
    ...positionStatements(findings),
    ...checkStatements(findings),
  ];
}

/** The method of the model that answers, with the measurement by its name. */
export function methodOf(findings: Findings): string {
  const { name } = findings.response;
  const named = `${name.charAt(0).toLowerCase()}${name.slice(1)}`;
  const method = findings.primary.result.method.replace(/\bresponse\b/, named);
  return [method, ...findings.cautions].join(' ');
}

/** The sentences in three groups: what differed, what position did, what the checks say. */
export function sentenceGroups(findings: Findings): string[][] {
  const all = statements(findings);
  const position = ['edge', 'light', 'position'];
  const groups = [
    all.filter((s) => !position.includes(s.about) && s.about !== 'check'),
    all.filter((s) => position.includes(s.about)),
    all.filter((s) => s.about === 'check'),
  ];
  return groups.filter((g) => g.length > 0).map((g) => g.map((s) => s.text));
}

/** The same as three paragraphs. */
export function paragraphs(findings: Findings): string[] {
  return sentenceGroups(findings).map((group) => group.join(' '));
}

/** All sentences as one paragraph. */
export function paragraph(findings: Findings): string {
  return statements(findings)
    .map((statement) => statement.text)
    .join(' ');
}

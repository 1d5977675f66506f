import { isPaper, papers } from '../../../shared-types/paper';
import { join } from 'node:path';
import type { Plan } from '../../../shared-types/plan';
import {
  findingsOfPlan,
  growthByTreatment,
  noticesOf,
  PRIMARY,
  randomisationInputOf,
  startHere,
  type StartJob,
} from '../../../renderer/derive';
import {
  type Findings,
  type RandomisationFound,
  anyModelWords,
  effectSizesOf,
  modelPOf,
  paragraph,
  plantsByLevel,
  randomisationSentence,
  sensitivityOf,
  covariateSlopesOf,
  answersOf,
  statements,
} from '../../../renderer/engine/findings';
import {
  figureFile,
  reportFigures,
  reportFiles,
  reportHtml,
  type ReportInput,
} from '../../../renderer/print/report';
import { anyBlindedSince, blindedSince } from '../../../renderer/document/queries';
import { reasonOf } from '../../../renderer/words';
import { BatchError } from '../batchError';
import { readPlanFile } from '../inputs';
import { lightReady } from '../lightReady';
import { refuseFolder, writeFolder } from '../output';
import { inRunAsked, runInResult, runOption } from '../runAsked';
import { withAttachments } from '../../services/files/pdfAttachments';
import { htmlToPdf } from '../pdf';
import type { Verb, VerbArguments } from '../verb';

export const findingsVerb: Verb = {
  name: 'findings',
  gives:
    'All tables and statements of the findings of a plan with records; with --report the report, its tables, figures and data (for fit) as files in DIR.',
  takes: ['PLAN'],
  options: {
    report: { value: 'DIR', needed: false },
    paper: { value: 'A4|Letter', needed: false },
    redraws: { value: 'RUNS', needed: false },
    ...runOption,
  },
  async run(args, startJob = startHere) {
    const path = args.positional('PLAN');
    const paper = args.optional('paper') ?? 'A4';
    if (!isPaper(paper)) {
      throw new BatchError('--paper', `found ${paper}`, `expected ${papers.join(' or ')}`);
    }
    const runs = runsOf(args.optional('redraws'));
    const folder = args.optional('report');
    if (folder !== undefined) await refuseFolder({ option: 'report', path: folder });
    const asked = args.optional('run');
    const plan = inRunAsked(await readPlanFile(path), asked);
    await lightReady(plan, startJob);
    const findings = foundIn(plan, path, asked);
    const notices = noticesOf(plan, { ok: true, findings });
    const { tests, refused } =
      runs === null
        ? { tests: [], refused: [] }
        : await randomisationTestsOf(plan, findings, runs, startJob);
    const report = { plan, findings, notices, paper, randomisationTests: tests };
    const files =
      folder === undefined
        ? {}
        : { files: await writeReport(folder, args, { ...report, title: plan.title }) };
    return {
      ...(asked === undefined ? {} : runInResult(plan)),
      ...findingsOut(plan, findings),
      redraws: tests.map((found) => ({
        ...found,
        sample: undefined,
        sentence: randomisationSentence(found, findings.alpha, modelPOf(findings, found)),
      })),
      redrawsRefused: refused,
      notices: notices.filter((n) => n.stage === 'findings' || n.stage === 'records'),
      ...files,
    };
  },
};

/** Of all runs together, unless one is asked for. Throws where the plan has none to give. */
function foundIn(plan: Plan, path: string, run: string | undefined): Findings {
  const since = run === undefined ? anyBlindedSince(plan) : blindedSince(plan);
  if (since !== null) {
    const expected = 'a trial whose blinding is opened, with a reason, is expected';
    throw new BatchError(path, `the trial is blinded since ${since}`, expected);
  }
  const outcome = findingsOfPlan(plan, run === undefined ? PRIMARY : { ...PRIMARY, runs: 'shown' });
  if (outcome.ok) return outcome.findings;
  throw new BatchError(
    path,
    outcome.missing.replace(/\.$/, ''),
    outcome.obstacle?.remedy.replace(/\.$/, '') ?? 'a plan with records is expected',
  );
}

/** The findings themselves, without what was asked for beside them. */
function findingsOut(plan: Plan, findings: Findings) {
  const { question, checks } = findings;
  const codes = new Map(findings.pots.map((pot) => [pot.id, pot.code]));
  return {
    response: findings.response,
    cautions: findings.cautions,
    question: {
      measurement: question.measurement.name,
      index: question.index,
      days: question.days,
    },
    answers: answersOf(findings),
    statements: statements(findings),
    paragraph: paragraph(findings),
    primary: findings.primary,
    positions: findings.positions.map(positionOut),
    refused: findings.refused,
    slopes: covariateSlopesOf(findings),
    effectSizes: effectSizesOf(findings),
    sensitivity: sensitivityOf(findings),
    sensitivityCaution: anyModelWords(),
    edge: findings.edge,
    gradient: findings.gradient,
    light: findings.light,
    notReplicated: findings.described,
    growth: growthByTreatment(plan, question.measurement.id),
    slowing: findings.slowing,
    checks: {
      power: checks.power && { ...checks.power, profile: undefined },
      pots: checks.pots.filter((pot) => pot.outlying || pot.influential),
    },
    averaged: averagedCounts(findings),
    plants: plantsByLevel(findings),
    leftOut: findings.leftOut.map(({ pot, why }) => ({ pot: pot.code, why })),
    residuals: Object.fromEntries(
      [...findings.residuals].map(([id, residual]) => [codes.get(id) ?? id, residual]),
    ),
  };
}

/** What was found under one position model. */
function positionOut(position: Findings['positions'][number]) {
  const { model, request, unitRequests, result, information, rook, queen } = position;
  return {
    model,
    request,
    unitRequests,
    terms: result.terms,
    means: result.means,
    comparisons: result.comparisons,
    contrasts: result.contrasts,
    variance: result.variance,
    spatial: result.spatial,
    logLik: result.logLik,
    aic: result.aic,
    information,
    moran: { rook, queen },
    checks: result.checks,
  };
}

/** Counts averaged per unit: what was fitted; null where every pot was analysed by itself. */
function averagedCounts({ averaged }: Findings) {
  if (!averaged) return null;
  const { units, byTreatment, half, table } = averaged;
  return { units, byTreatment, halfAdded: half, table };
}

function runsOf(text: string | undefined): number | null {
  if (text === undefined) return null;
  const runs = Number(text);
  if (Number.isInteger(runs) && runs >= 1 && runs <= 1_000_000) return runs;
  throw new BatchError('--redraws', `found ${text}`, 'expected a whole number up to 1000000');
}

/** A randomisation test of every factor that was drawn, each in its own stratum, or why it cannot be made. */
async function randomisationTestsOf(
  plan: Plan,
  findings: Findings,
  runs: number,
  startJob: StartJob,
): Promise<{ tests: RandomisationFound[]; refused: { term: string; reason: string }[] }> {
  const data = randomisationInputOf(plan);
  const tests: RandomisationFound[] = [];
  const refused: { term: string; reason: string }[] = [];
  for (const { factor } of data ? findings.design.tested : []) {
    if (factor.kind !== 'randomised' || !data) continue;
    const asked = {
      measurementId: findings.question.measurement.id,
      index: findings.question.index,
      factorIds: [factor.id],
      runs,
      seed: plan.layout?.seed ?? plan.title,
    };
    try {
      tests.push(await startJob('randomisationTest', { data, asked }, () => undefined).result);
    } catch (error) {
      refused.push({
        term: factor.name,
        reason: reasonOf(error),
      });
    }
  }
  return { tests, refused };
}

async function writeReport(
  folder: string,
  args: VerbArguments,
  report: ReportInput & { plan: Plan },
) {
  const { plan, findings } = report;
  const html = reportHtml(report);
  const files = reportFiles(report);
  const inFolder = (name: string) => join(folder, name);
  const figures = reportFigures(plan, findings).map((figure) => ({
    name: `${figure.name}.svg`,
    text: figureFile(figure),
  }));
  const pdf = await htmlToPdf(html);
  const contents = new Map<string, string | Uint8Array>([
    ['report.html', html],
    ...files.map(({ name, text }) => [name, text] as const),
    ...figures.map(({ name, text }) => [name, text] as const),
    ...(pdf.ok ? [['report.pdf', withAttachments(pdf.bytes, files)] as const] : []),
  ]);
  await writeFolder({ option: 'report', path: folder }, contents, args);
  return {
    html: inFolder('report.html'),
    pdf: pdf.ok ? inFolder('report.pdf') : null,
    tables: inFolder('tables.csv'),
    data: inFolder('data.csv'),
    ...(findings.averaged ? { means: inFolder('means.csv') } : {}),
    figures: figures.map(({ name }) => inFolder(name)),
    remarks: pdf.ok ? [] : [`no PDF: ${pdf.why}; the HTML prints at 100 %`],
  };
}

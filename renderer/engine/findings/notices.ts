import type { Notice } from '../../../shared-types/notice';
import { chiSquareUpper } from '../stats/distributions';
import { unitWords } from '../../../shared-types/trial/trial';
import { potsBehind, type Findings } from './findings';
import { plantsByLevel } from './plants';
import { saidDifference, saidInterval } from './model/scale';
import { movedAnswers } from './position/sensitivity';
import { unitMismatchWords } from './refused/unitMismatches';
import { positionWords } from './statements/wording';
import { capital, list, noticesOfStage, said, saidP, sayDay } from '../../words';

/** A check is only worth a warning where chance alone would hardly give it. */
const CHECK_ALPHA = 0.01;

const notice = noticesOfStage('findings');

/** What is doubtful about the findings themselves. */
export function findingsNotices(findings: Findings): Notice[] {
  return [
    ...unitNotices(findings),
    ...alikeUnitNotices(findings),
    ...patternNotices(findings),
    ...spreadNotices(findings),
    ...farOutNotices(findings),
    ...positionNotices(findings),
    ...saturationNotices(findings),
  ];
}

function unitNotices(findings: Findings): Notice[] {
  return findings.unitMismatches.map((mismatch) => {
    const role = findings.roles.find(({ factor }) => factor.name === mismatch.factor);
    const { text, remedy } = unitMismatchWords(mismatch);
    return notice(
      'unit-smaller-than-treated',
      'warn',
      [role ? `factor:${role.factor.id}` : 'plan'],
      text,
      remedy,
    );
  });
}

/** Units whose variance is estimated at or below zero: nothing is wrong, but it looks so. */
function alikeUnitNotices({ primary, roles }: Findings): Notice[] {
  return primary.result.variance.flatMap(({ unit, variance }) => {
    const judged = roles.filter((role) => role.replicated && role.unitColumn === unit);
    if (variance > 0 || judged.length === 0) return [];
    const { many } = unitWords[judged[0]?.unit ?? 'tray'];
    const names = list(judged.map(({ factor }) => factor.name));
    return [
      notice(
        'unit-variance-zero',
        'note',
        judged.map(({ factor }) => `factor:${factor.id}`),
        `${capital(many)} differ less than their pots alone would make them: the variance among ${many} is estimated at ${said(variance, '', 2)}. With few ${many} chance often gives that.`,
        `Nothing needs to be done. ${capital(many)} stay the units, and ${names} is judged by them.`,
      ),
    ];
  });
}

function patternNotices(findings: Findings): Notice[] {
  const { rook, model } = findings.primary;
  if (!rook || rook.p >= CHECK_ALPHA || rook.i <= rook.expected) return [];
  return [
    notice(
      'residuals-patterned',
      'warn',
      ['plan'],
      `With ${positionWords(findings)[model]}, neighbouring pots are still alike: a pattern of place is left, which may pass for treatment. Residuals: Moran's I ${said(rook.i, '', 2)}, ${saidP(rook.p, CHECK_ALPHA)}.`,
      'Look at the residuals on the rack, and at the other position models in the table.',
    ),
  ];
}

function spreadNotices(findings: Findings): Notice[] {
  const p = findings.primary.result.checks['brown-forsythe']?.['p'];
  if (typeof p !== 'number' || p >= CHECK_ALPHA) return [];
  return [
    notice(
      'spread-unequal',
      'warn',
      ['plan'],
      `Equal plants differ more under some treatments than under others, but the analysis takes their spread as the same. Brown–Forsythe ${saidP(p, CHECK_ALPHA)}.`,
      'Look at the residuals against the fitted values; growth rates or logarithms often even out the spread.',
    ),
  ];
}

function farOutNotices(findings: Findings): Notice[] {
  const far = findings.checks.pots
    .filter((pot) => pot.outlying || pot.influential)
    .sort((a, b) => Math.abs(b.studentised ?? 0) - Math.abs(a.studentised ?? 0));
  if (far.length === 0) return [];
  const named = far
    .slice(0, 6)
    .map(({ code, standardised }) => `${code} (${said(standardised, '', 2)} sd)`);
  const more = far.length > 6 ? ` and ${far.length - 6} more` : '';
  const [one, many] = findings.averaged ? ['mean', 'means'] : ['pot', 'pots'];
  return [
    notice(
      'influential-pot',
      'warn',
      far.flatMap(({ potId }) => potsBehind(findings, potId).map((id) => `pot:${id}`)),
      `${far.length === 1 ? `One ${one} lies` : `${far.length} ${many} lie`} far from what the analysis expects, or would move its answers alone: ${list(named)}${more}.`,
      'Check the record against the sheet, and compare the answers with and without it. A value stays in unless you mark its pot as excluded with a reason.',
    ),
  ];
}

function saturationNotices(findings: Findings): Notice[] {
  const { slowing } = findings;
  if (!slowing?.stopped) return [];
  const unit = `${slowing.measurement.unit} a day`;
  return [
    notice(
      'saturated',
      'warn',
      [`measurement:${slowing.measurement.id}`],
      `Growth had all but stopped before harvest: ${slowing.measurement.name} rose by ${said(slowing.last.perDay, unit)} from ${sayDay(slowing.last.from)} to ${sayDay(slowing.last.to)}, after ${said(slowing.before.perDay, unit)} before that.`,
      'Treatments that differ in pace look alike once all plants are full-grown: look at the growth between the earlier dates too, and harvest sooner next time.',
    ),
  ];
}

function positionNotices(findings: Findings): Notice[] {
  const words = positionWords(findings);
  return movedAnswers(findings).map(({ label, model, here, there, standardErrors }) =>
    notice(
      'position-changes-answer',
      'warn',
      ['plan'],
      `${label} is ${saidDifference(findings, here.estimate, here)} (${saidInterval(findings, here.lower, here.upper)}) with ${words[findings.primary.model]}, but ${saidDifference(findings, there)} with ${words[model]}. That is ${said(standardErrors, '', 2)} standard errors away, outside the interval: place may have done part of it.`,
      'Report the model that was locked before harvest, and say that the others differ.',
    ),
  );
}

/**
 * Deaths that differ between treatments more than chance allows: then the plants that are left are
 * no longer a fair sample. Pearson's χ² on dead or alive by level, where at least 4 died.
 */
export function deathNotices(findings: Findings): Notice[] {
  const dead = new Set(findings.leftOut.filter((e) => e.why === 'dead').map((e) => e.pot.id));
  if (dead.size < 4) return [];
  return findings.roles.flatMap((role): Notice[] => {
    const counts = plantsByLevel({ ...findings, roles: [role] });
    const share = dead.size / findings.pots.length;
    let chiSquare = 0;
    for (const { pots, dead: died } of counts) {
      chiSquare += (died - pots * share) ** 2 / (pots * share * (1 - share));
    }
    const p = chiSquareUpper(chiSquare, counts.length - 1);
    if (counts.length < 2 || p >= CHECK_ALPHA) return [];
    const rows = counts.map((c) => `${c.level} ${c.dead} of ${c.pots}`);
    return [
      noticesOfStage('records')(
        'dead-uneven',
        'warn',
        [`factor:${role.factor.id}`],
        `Deaths differ between levels of ${role.factor.name}: ${list(rows)} (χ² ${said(chiSquare)}, ${saidP(p, CHECK_ALPHA)}).`,
        'Report the deaths as a result of their own; the survivors alone may flatter a treatment.',
      ),
    ];
  });
}

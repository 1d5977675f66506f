import { describe, expect, it } from 'vitest';
import { findingsOfPlan } from '../../../renderer/derive';
import type { Findings } from '../../../renderer/engine/findings';
import { plantChoices, plantsFigure, plantsSummary } from '../../../renderer/print/report';
import type { Plan } from '../../../shared-types/plan';
import { example } from '../../builders/examplePlans';
import { interacting } from '../../builders/harvests';
import { smallBasil } from '../../builders/smallBasil';

function findingsOf(plan: Plan): Findings {
  const outcome = findingsOfPlan(plan);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const plan = smallBasil();
const marked = (plan.layout?.assignments ?? []).map(({ potId }) => potId).slice(0, 2);
const [dead = '', missing = ''] = marked;
const withLosses = findingsOf({
  ...plan,
  records: {
    ...plan.records,
    marks: {
      [dead]: { mark: 'dead', date: null, reason: '' },
      [missing]: { mark: 'missing', date: null, reason: '' },
    },
  },
});

const svgOf = (findings: Findings, of?: readonly string[]) =>
  plantsFigure(findings, { width: 700, links: true }, of)?.svg ?? '';

describe('the picture of every plant', () => {
  it('has a dot for every pot, the dead and the missing among them, each linked to its pot', () => {
    const svg = svgOf(withLosses);
    const linked = [...svg.matchAll(/#(pot:[^"]+)"/g)].map(([, ref]) => ref);
    expect(new Set(linked).size).toBe(72);
    expect(linked).toHaveLength(72);
    // A second mark over a linked one would keep the pointer from it.
    expect(svg.match(/<title>/g)).toHaveLength(72);
    expect(svg).toMatch(/1A-A1 · [^<]* · dead/);
    expect(svg).toContain('× dead: 1');
    expect(svg).toContain('○ missing: 1');
  });

  it('shows two factors together, or one alone with the mean of each unit that got it', () => {
    expect(plantChoices(withLosses)).toEqual([['feed', 'cultivar'], ['feed'], ['cultivar']]);
    const units = (svg: string) => svg.match(/ · mean /g)?.length ?? 0;
    expect(units(svgOf(withLosses, ['feed']))).toBe(9);
    expect(units(svgOf(withLosses, ['cultivar']))).toBe(0);
    expect(units(svgOf(withLosses))).toBe(0);
  });

  it('marks groups by the letters of the comparisons', () => {
    const letters = withLosses.primary.result.comparisons.find(
      ({ of, method, by }) => of.join() === 'feed' && method === 'tukey' && by.length === 0,
    )?.letters;
    for (const [level, letter] of Object.entries(letters ?? {})) {
      expect(svgOf(withLosses, ['feed'])).toContain(`${level} ${letter}`);
    }
  });

  it('puts letters at each combination where the factors act on each other', () => {
    const svg = svgOf(findingsOf(interacting()));
    expect(svg).not.toContain('Brookleaf a');
    // Within strong feed the first cultivar stands alone; elsewhere all share a letter.
    expect([...svg.matchAll(/>([ab])</g)].map(([, letter]) => letter).join('')).toBe(
      'aaaaaaaaabbb',
    );
  });

  it('shows the plants of a factor that was not replicated, without any interval', () => {
    const findings = findingsOf(example('two-lamps'));
    expect(svgOf(findings).match(/#pot:/g)).toHaveLength(80);
    expect(plantsSummary(findings).join(' ')).not.toContain('mean');
  });

  it('says of each group in words what is seen', () => {
    const said = plantsSummary(withLosses);
    expect(said).toHaveLength(12);
    expect(said.filter((text) => text.includes('1 dead'))).toHaveLength(1);
    const row = withLosses.primary.result.means
      .find(({ of }) => of.length === 2)
      ?.rows.find((one) => one['cultivar'] === 'Brookleaf' && /strong/.test(String(one['feed'])));
    const text = said.find((sentence) => /^strong .* and Brookleaf/.test(sentence)) ?? '';
    expect(text).toContain(`adjusted mean ${row?.mean.toFixed(2) ?? ''} g`);
  });
});

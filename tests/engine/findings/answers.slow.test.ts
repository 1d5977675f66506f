import { describe, expect, it } from 'vitest';
import { findingsOfPlan } from '../../../renderer/derive';
import { answersOf, type Findings } from '../../../renderer/engine/findings';
import { plantsFigure } from '../../../renderer/print/report';
import type { Plan } from '../../../shared-types/plan';
import { example } from '../../builders/examplePlans';
import { smallBasil } from '../../builders/smallBasil';

function findingsOf(plan: Plan): Findings {
  const outcome = findingsOfPlan(plan);
  if (!outcome.ok) throw new Error(outcome.missing);
  return outcome.findings;
}

const small = findingsOf(smallBasil());
const answerOn = (findings: Findings, of: string) => {
  const found = answersOf(findings).find((answer) => answer.of === of);
  if (!found) throw new Error(`there is an answer on ${of}`);
  return found;
};

/** The small demo with the harvest of every pot given by a rule of its place in the layout. */
function grown(value: (i: number, levels: Readonly<Record<string, string>>) => number): Findings {
  const plan = smallBasil();
  const { primaryOutcomeId } = plan.trial;
  const values = Object.fromEntries(
    (plan.layout?.assignments ?? []).map(({ potId, levels }, i) => [potId, value(i, levels)]),
  );
  const all = { ...plan.records.values, [primaryOutcomeId ?? '']: values };
  return findingsOf({ ...plan, records: { ...plan.records, values: all } });
}

const odd = (i: number) => ((i * 7919) % 41) / 10;

describe('the answers', () => {
  // Strong feed adds 12 g over weak in this harvest, see its builder.
  it('name the best level, by how much and how sure, with the figures of their comparison', () => {
    const feed = answerOn(small, 'Feed');
    const row = small.primary.result.comparisons
      .find(({ of, method }) => of.join() === 'feed' && method === 'tukey')
      ?.rows.find(({ a, b }) => [a, b].every((level) => /strong|weak/.test(level)));
    if (!row) throw new Error('strong is compared with weak');
    expect(feed.sure).toBe('clear');
    expect(feed.headline).toMatch(/^Strong .*grew the heaviest plants$/);
    const [size = NaN, lower = NaN, upper = NaN] = (
      feed.figure.match(/-?[0-9]+\.[0-9]+(?= g|\)| to)/g) ?? []
    ).map(Number);
    expect(size).toBeCloseTo(Math.abs(row.difference), 1);
    expect(lower).toBeCloseTo(Math.min(Math.abs(row.lower), Math.abs(row.upper)), 1);
    expect(upper).toBeCloseTo(Math.max(Math.abs(row.lower), Math.abs(row.upper)), 1);
    expect(feed.why).toMatch(/^Drawn over 9 trays\./);
  });

  it('say that nothing is clear where nothing was done, and what the data still allow', () => {
    const none = grown((i) => 30 + odd(i));
    const feed = answerOn(none, 'Feed');
    expect(feed.headline).toBe('No clear difference in feed');
    expect(feed.sure).not.toBe('clear');
    expect(feed.figure).toMatch(/^It could be anything from −[0-9.]+ to \+?[0-9.]+ g/);
  });

  it('let levels that cannot be told from the best share its place', () => {
    const first = smallBasil().trial.factors[1]?.levels[0]?.id;
    const second = smallBasil().trial.factors[1]?.levels[1]?.id;
    const pair = grown((i, levels) => {
      const cultivar = Object.values(levels);
      const heavy = [first, second].some((id) => id !== undefined && cultivar.includes(id));
      return 30 + ((i * 31) % 17) / 2 + (heavy ? 20 : 0);
    });
    expect(answerOn(pair, 'Cultivar').headline).toMatch(
      /^(Brookleaf and Dunmarrow|Dunmarrow and Brookleaf) grew the heaviest plants$/,
    );
  });

  it('say what an answer depends on where factors act on each other', () => {
    const [feed, cultivar] = smallBasil().trial.factors;
    const crossed = grown((i, levels) => {
      const strong = feed?.levels.at(-1)?.id === levels[feed?.id ?? ''];
      const first = cultivar?.levels[0]?.id === levels[cultivar?.id ?? ''];
      return 30 + odd(i) / 4 + (strong ? 10 : 0) + (strong && first ? 20 : 0);
    });
    expect(answerOn(crossed, 'Feed').why).toMatch(/It depends on cultivar\.$/);
    expect(answerOn(small, 'Feed').why).not.toContain('depends');
  });

  it('name no best level where all are compared with a control alone', () => {
    const plan = smallBasil();
    const factors = plan.trial.factors.map((factor) =>
      factor.name === 'feed' ? { ...factor, control: factor.levels[1]?.id ?? '' } : factor,
    );
    const feed = answerOn(findingsOf({ ...plan, trial: { ...plan.trial, factors } }), 'Feed');
    expect(feed.headline).not.toMatch(/heaviest/);
    expect(feed.headline).toMatch(/ (above|over) /);
  });

  it('say nothing about a factor that was not replicated', () => {
    const lamp = answerOn(findingsOf(example('two-lamps')), 'Lamp');
    expect(lamp).toMatchObject({
      headline: 'Nothing can be said about lamp',
      sure: null,
      figure: '',
    });
  });

  it('are clear exactly where the test and the interval of the widest pair are', () => {
    for (const findings of [small, grown((i) => 30 + odd(i)), grown((i) => 30 + ((i * 31) % 17))]) {
      for (const role of findings.design.tested) {
        const rows = findings.primary.result.comparisons.find(
          ({ of, method }) => of.join() === role.column && method === 'tukey',
        )?.rows;
        const widest = rows?.reduce((a, b) =>
          Math.abs(b.difference) > Math.abs(a.difference) ? b : a,
        );
        const term = findings.primary.result.terms.find(({ term: name }) => name === role.column);
        const answer = answersOf(findings).find(
          ({ of }) => of.toLowerCase() === role.factor.name.toLowerCase(),
        );
        const shown =
          (term?.p ?? 1) < findings.alpha &&
          widest !== undefined &&
          widest.lower * widest.upper > 0;
        expect(answer?.sure === 'clear').toBe(shown);
      }
    }
  });
});

describe('the picture of every plant', () => {
  it('has a dot for each analysed pot, linked to it, and never moves one', () => {
    const figure = plantsFigure(small, { width: 700, links: true });
    const links = figure?.svg.match(/#pot:/g) ?? [];
    expect(links).toHaveLength(small.primary.result.n);
    expect(plantsFigure(small, { width: 700, links: true })?.svg).toBe(figure?.svg);
    expect(figure?.label).toContain(`${small.primary.result.n} dots`);
  });
});

import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runBatch } from '../../electron/batch/run';
import { checkVerb } from '../../electron/batch/verbs/check';
import { drawVerb } from '../../electron/batch/verbs/draw';
import { findingsVerb } from '../../electron/batch/verbs/findings';
import { floodVerb } from '../../electron/batch/verbs/flood';
import { lightVerb } from '../../electron/batch/verbs/light';
import { groupingsOf, noticesToTell, rackPictureOf } from '../../renderer/derive';
import { blindTrial, openBlinding, planRuns } from '../../renderer/document/commands';
import { anyBlindedSince, blindedSince } from '../../renderer/document/queries';
import { seenFromEach, seenFromLast } from '../../renderer/document/runs';
import { writePlan } from '../../renderer/document/open';
import { recordsCsv, recordsLongCsv } from '../../renderer/document/records';
import { layoutLook } from '../../renderer/panes/layout';
import { defaultOptions, printables, printed } from '../../renderer/print';
import { createPlanStore, undoLabel } from '../../renderer/store';
import type { Notice } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';
import { refusal, run } from '../builders/run';
import { example } from '../builders/examplePlans';
import { drawnPlan } from '../builders/samplePlan';

const plan: Plan = example('basil');
const blinded = run(plan, blindTrial, { date: '2026-03-03' });
const levels = (plan.trial?.factors ?? []).flatMap((factor) => factor.levels.map((l) => l.name));

describe('a blinded trial', () => {
  it('shows codes on the rack, and says no level where the pointer is', () => {
    const said = (of: Plan) => [...(layoutLook(of, []).potPaint?.values() ?? [])];
    expect(said(plan)[0]?.words).toMatch(/^treatment [A-Z]+: /);
    for (const { letter, words = '' } of said(blinded)) {
      expect(letter).toMatch(/^[B-X]{2}$/);
      expect(words).toMatch(new RegExp(`^code ${letter ?? ''} · block`));
      for (const level of levels) expect(words).not.toContain(`${level},`);
    }
    // As many codes as treatments, each on the pots of one.
    const pairs = new Set(
      said(blinded).map(({ letter }, i) => `${letter} ${said(plan)[i]?.letter}`),
    );
    expect(pairs.size).toBe(new Set(said(plan).map(({ letter }) => letter)).size);
  });

  it('prints codes whatever is chosen, and neither its key nor the hanging list', () => {
    const options = { ...defaultOptions('A4'), blinded: false };
    expect(printables(blinded, { ...options, blinded: true }).map(({ name }) => name)).not.toEqual(
      expect.arrayContaining(['sealed-key']),
    );
    expect(printed(blinded, 'sealed-key', { ...options, blinded: true })).toBeNull();
    expect(printed(blinded, 'setup-list', options)).toBeNull();
    const chart = printed(blinded, 'tray-charts', options, 1)?.html ?? '';
    expect(chart).toBe(printed(plan, 'tray-charts', { ...options, blinded: true }, 1)?.html);
    expect(printed(plan, 'tray-charts', options, 1)?.html).not.toBe(chart);
  });

  it('writes no treatment into tables', () => {
    const [factor] = plan.trial?.factors ?? [];
    expect(recordsCsv(plan)).toContain(`,${factor?.name},`);
    for (const table of [recordsCsv(blinded), recordsLongCsv(blinded)]) {
      expect(table).not.toContain(`,${factor?.name},`);
    }
  });

  it('is opened with a reason that stays, and by no undoing', () => {
    const store = createPlanStore();
    store.getState().open(drawnPlan(), null);
    const { dispatch } = store.getState();
    expect(dispatch(blindTrial, { date: '2026-03-03' }).ok).toBe(true);
    expect(undoLabel(store.getState())).toBeNull();
    expect(dispatch(blindTrial, { date: '2026-03-03' }).ok).toBe(false);
    expect(dispatch(openBlinding, { date: '2026-04-12', reason: ' ' }).ok).toBe(false);
    expect(dispatch(openBlinding, { date: '2026-04-12', reason: 'all weighed' }).ok).toBe(true);
    expect(undoLabel(store.getState())).toBeNull();
    const opened = store.getState().plan;
    expect(opened && blindedSince(opened)).toBeNull();
    expect(opened?.records.incidents).toMatchObject([
      { date: '2026-03-03', text: 'Blinded: treatments are shown as codes', kept: true },
      {
        date: '2026-04-12',
        text: 'Blinding opened (blinded since 2026-03-03): all weighed',
        kept: true,
      },
    ]);
    expect(dispatch(openBlinding, { date: '2026-04-12', reason: 'again' }).ok).toBe(false);
  });

  it('shows the rack in small by a draw that is not its own, and by none of a fixed factor', () => {
    const picture = (of: Plan) => rackPictureOf(of, of);
    const { layout } = blinded;
    if (!layout) throw new Error('the example has a layout');
    const turned = [...layout.assignments].reverse();
    const assignments = layout.assignments.map((one, i) => ({
      ...one,
      levels: turned[i]?.levels ?? one.levels,
    }));
    const other = { ...blinded, layout: { ...layout, assignments } };
    expect(picture(blinded)?.example).toBe(true);
    expect(picture(other)).toEqual(picture(blinded));
    expect(picture({ ...plan, layout: other.layout })).not.toEqual(picture(plan));
  });

  it('keeps to itself what compares treatments, and figures of a rack that they change', () => {
    const notice = (stage: Notice['stage'], kind: Notice['kind']): Notice => ({
      stage,
      kind,
      severity: 'warn',
      about: ['shelf:s1'],
      text: 'Strong gets 212 of it.',
      remedy: 'Give it 200.',
    });
    const all = [
      notice('trial', 'edge-share-unequal'),
      notice('records', 'harvest-spread'),
      notice('findings', 'saturated'),
      notice('records', 'record-missing'),
      notice('flood', 'overtops'),
    ];
    expect(noticesToTell(plan, all)).toEqual(all);
    const told = noticesToTell(blinded, all);
    expect(told.map(({ kind }) => kind)).toEqual(['record-missing', 'overtops']);
    expect(told[0]).toEqual(all[3]);
    expect(told[1]?.text).not.toMatch(/Strong|212/);
    expect(told[1]?.remedy).not.toMatch(/200/);
    expect(groupingsOf(plan)).toContain('treatment');
    expect(groupingsOf(blinded)).not.toContain('treatment');
  });

  it('takes with it the run that exchanges its levels, and tables of all runs', () => {
    const first = drawnPlan('2026-03-02');
    const blind = run(first, blindTrial, { date: '2026-03-03' });
    const runs = { runs: 2, swappedFactorId: 'f1' };
    const second = (of: Plan) => seenFromLast(run(of, planRuns, runs));
    const bound = second(blind);
    expect(blindedSince(bound)).toBe('2026-03-03');
    expect(refusal(bound, openBlinding, { date: '2026-04-02', reason: 'why' })).toContain('run 1');
    expect(
      refusal({ ...second(first), layout: first.layout }, blindTrial, { date: '2026-04-02' }),
    ).toContain('Blind run 1');
    // Of runs that know nothing of each other, the blinded one alone keeps its treatments.
    const apart = run(blind, planRuns, { runs: 2, swappedFactorId: null });
    const open = { ...seenFromLast(apart), layout: first.layout };
    expect([blindedSince(open), anyBlindedSince(open)]).toEqual([null, '2026-03-03']);
    const [head, ...lines] = recordsCsv(open, {}, seenFromEach(open)).trim().split(/\r?\n/);
    const at = head?.split(',').indexOf('medium') ?? -1;
    expect(
      new Set(lines.map((line) => [line.split(',')[0], line.split(',')[at]].join(' '))),
    ).toEqual(new Set(['1 ', '2 bark', '2 clay']));
  });

  it('tells no treatment from the shell either', async () => {
    const path = join(await mkdtemp(join(tmpdir(), 'blinded-')), 'plan.evenrack');
    await writeFile(path, writePlan(blinded));
    const asked = async (...words: string[]) => {
      const said = { out: '', err: '' };
      const code = await runBatch(
        words,
        [findingsVerb, drawVerb, lightVerb, floodVerb, checkVerb],
        {
          out: (text: string) => (said.out += text),
          err: (text: string) => (said.err += text),
        },
      );
      return { code, ...said };
    };
    const findings = await asked('findings', path);
    expect(findings).toMatchObject({ code: 2, out: '' });
    expect(findings.err).toContain('the trial is blinded since 2026-03-03');
    // The very draw that the rack stands by.
    const drawn = await asked('draw', path, '--seed', plan.layout?.seed ?? '', '--csv');
    expect(drawn.out.split('\n')[0]).toBe('pot,block,unit,code,plant');
    const flood = await asked('flood', path);
    const bare = await asked('flood', path, '--bare');
    expect(flood).toEqual(bare);
    const checked = await asked('check', path);
    expect(JSON.parse(checked.out)).toMatchObject({ ok: true, blinded: '2026-03-03' });
    const light = await asked('light', path);
    expect(JSON.parse(light.out)).toMatchObject({ treatments: [], blinded: '2026-03-03' });
    for (const { code, out } of [drawn, flood, checked, light]) {
      expect(code).toBe(0);
      for (const level of levels) expect(out).not.toMatch(new RegExp(`\\b${level}\\b`));
    }
  });
});

import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runBatch } from '../../electron/batch/run';
import { findingsVerb } from '../../electron/batch/verbs/findings';
import { blindTrial, openBlinding } from '../../renderer/document/commands';
import { blindedSince } from '../../renderer/document/queries';
import { writePlan } from '../../renderer/document/open';
import { recordsCsv, recordsLongCsv } from '../../renderer/document/records';
import { layoutLook } from '../../renderer/panes/layout';
import { defaultOptions, printables, printed } from '../../renderer/print';
import { createPlanStore, undoLabel } from '../../renderer/store';
import type { Plan } from '../../shared-types/plan';
import { run } from '../builders/run';
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

  it('tells no findings from the shell either', async () => {
    const path = join(await mkdtemp(join(tmpdir(), 'blinded-')), 'plan.evenrack');
    await writeFile(path, writePlan(blinded));
    const said = { out: '', err: '' };
    const code = await runBatch(['findings', path], [findingsVerb], {
      out: (text: string) => (said.out += text),
      err: (text: string) => (said.err += text),
    });
    expect(code).toBe(2);
    expect(said.err).toContain('the trial is blinded since 2026-03-03');
    expect(said.out).toBe('');
  });
});

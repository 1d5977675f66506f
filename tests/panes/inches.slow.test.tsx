import { readFileSync } from 'node:fs';
import type { ReactNode } from 'react';
import { renderToString } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { stageViews } from '../../renderer/app/stages/stageViews';
import { findingsOfPlan, noticesOf, type StartJob } from '../../renderer/derive';
import type { FindingsOutcome } from '../../renderer/engine/findings';
import { readPlan } from '../../renderer/document/open';
import type { Host } from '../../renderer/host';
import { reportHtml } from '../../renderer/print/report';
import { createPlanStore, createSessionStore, StoreProvider } from '../../renderer/store';
import { FindingsProvider } from '../../renderer/store/findingsContext';
import { createFindingsStore } from '../../renderer/store/findingsStore';
import { HostContext } from '../../renderer/store/hostContext';
import { JobsContext } from '../../renderer/store/jobsContext';
import type { UnitSystem } from '../../renderer/words';
import type { Stage } from '../../shared-types/notice';
import type { Plan } from '../../shared-types/plan';

const names = ['basil', 'radishes', 'two-lamps', 'water'] as const;

function withLengths(name: string, lengths: UnitSystem): Plan {
  const file = new URL(`../../renderer/app/examples/${name}.json`, import.meta.url);
  const read = readPlan(readFileSync(file, 'utf8'));
  if (!read.ok) throw new Error(`${name} does not open`);
  const { rack, display } = read.plan;
  // What a person called a thing stays as it was typed.
  const lampKinds = rack.lampKinds.map((kind, i) => ({ ...kind, name: `kind ${i}` }));
  return { ...read.plan, rack: { ...rack, lampKinds }, display: { ...display, lengths } };
}

/** Words of a page, each with a little of what stands around it, that give a length in mm. */
function millimetres(html: string): string[] {
  const text = html
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]*?(?:aria-label|title)="([^"]*)"[^>]*>/g, ' $1 ')
    .replace(/<[^>]*>/g, ' ');
  return [...text.matchAll(/.{0,40}(?<![\w/])mm\b.{0,20}/g)].map(([found]) => found.trim());
}

/** A host that does nothing: nothing is clicked. */
const host = new Proxy({}, { get: () => () => undefined }) as Host;
const noJob: StartJob = () => ({ result: new Promise(() => undefined), cancel: () => undefined });

/** Something on the screen as a server draws it: with the state that the stores have now. */
async function drawing(plan: Plan, outcome: FindingsOutcome) {
  const stores = { plan: createPlanStore(), session: createSessionStore() };
  const findings = createFindingsStore(() => ({
    result: Promise.resolve(outcome),
    cancel: () => undefined,
  }));
  stores.plan.getState().open(plan, null);
  findings.getState().ask(plan);
  await Promise.resolve();
  for (const store of [stores.plan, stores.session, findings]) {
    Object.assign(store, { getInitialState: store.getState });
  }
  return (children: ReactNode): string =>
    renderToString(
      <StoreProvider stores={stores}>
        <HostContext value={host}>
          <JobsContext value={noJob}>
            <FindingsProvider store={findings}>{children}</FindingsProvider>
          </JobsContext>
        </HostContext>
      </StoreProvider>,
    );
}

describe('a plan shown in inches', () => {
  it('is told from one in millimetres by this test', async () => {
    const plan = withLengths('basil', 'metric');
    const draw = await drawing(plan, { ok: false, missing: '' });
    expect(millimetres(draw(<stageViews.flood.Side />)).length).toBeGreaterThan(3);
    expect(millimetres('<p>30 in, “mm”, 3/mm</p><b title="x">1 mm</b>')).toHaveLength(1);
  });

  it.each(names)('has no millimetre in a pane, legend, notice or report: %s', async (name) => {
    const plan = withLengths(name, 'imperial');
    const outcome = findingsOfPlan(plan);
    const notices = noticesOf(plan, outcome);
    const draw = await drawing(plan, outcome);
    for (const stage of Object.keys(stageViews) as Stage[]) {
      const { Side, Legend } = stageViews[stage];
      expect([stage, millimetres(draw(<Side />))]).toEqual([stage, []]);
      if (Legend) expect([stage, millimetres(draw(<Legend />))]).toEqual([stage, []]);
    }
    for (const { text, remedy } of notices) expect(millimetres(`${text} ${remedy}`)).toEqual([]);
    if (!outcome.ok) return;
    const { findings } = outcome;
    const report = reportHtml({ title: name, plan, findings, notices, paper: 'Letter' });
    expect(millimetres(report)).toEqual([]);
  });
});

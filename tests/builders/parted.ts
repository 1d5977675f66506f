import * as commands from '../../renderer/document/commands';
import { emptyPlan, newBoard } from '../../renderer/document/new';
import type { Plan } from '../../shared-types/plan';
import { trialInputOf } from '../../renderer/derive';
import { drawLayout } from '../../renderer/engine/trial';
import { run } from './run';

/**
 * Three shelves with a tray of 4 × 9 pots each, a board across every middle, short lamps in the six
 * bays; bright or dim light by bay, coir or bark by pot. Nothing is drawn yet.
 */
export function partedPlan(): Plan {
  let plan = emptyPlan('Lettuce under two lights');
  for (let i = 0; i < 3; i++) plan = run(plan, commands.addShelf, {});
  plan = run(plan, commands.addLampKind, {});
  const kindId = plan.rack.lampKinds[0]?.id ?? '';
  const shelfIds = plan.rack.shelves.map(({ id }) => id);
  for (const shelfId of shelfIds) {
    plan = run(plan, commands.addTray, { shelfId, tray: { grid } });
    plan = run(plan, commands.addLamp, { shelfId, kindId, count: 3 });
  }
  const [shelf] = plan.rack.shelves;
  if (!shelf) throw new Error('three shelves were added');
  plan = run(plan, commands.addBoard, { shelfIds, board: newBoard(shelf, 'across') });
  for (const shelfId of shelfIds) plan = run(plan, commands.partLamps, { shelfId });
  plan = run(plan, commands.setTrial, { question: 'Does lettuce grow more under bright light?' });
  plan = run(plan, commands.addFactor, {
    name: 'light',
    kind: 'randomised',
    unit: 'bay',
    levels: ['bright', 'dim'],
  });
  plan = run(plan, commands.addFactor, {
    name: 'medium',
    kind: 'randomised',
    unit: 'pot',
    levels: ['coir', 'bark'],
  });
  const [light, medium] = plan.trial?.factors ?? [];
  if (!light || !medium) throw new Error('two factors were added');
  plan = run(plan, commands.editFactor, {
    factorId: light.id,
    patch: { appliedThrough: 'light' },
  });
  plan = run(plan, commands.editFactor, {
    factorId: medium.id,
    patch: { appliedThrough: 'medium' },
  });
  plan = run(plan, commands.setScheme, { scheme: 'split-plot' });
  return run(plan, commands.setBlocks, { blocks: { by: 'shelf' } });
}

const grid = {
  pattern: 'square' as const,
  rows: 4,
  columns: 9,
  pitchXMm: 120,
  pitchYMm: 125,
  potDiameterMm: 90,
  potHeightMm: 85,
  firstXMm: 95,
  firstYMm: 85,
  guardRing: false,
  guards: [],
  empty: [],
};

/** The same with a layout. */
export function partedAndDrawn(seed = 'nine boards'): Plan {
  const plan = partedPlan();
  const input = trialInputOf(plan);
  if (!input) throw new Error('the plan has a trial');
  const drawn = { drawnAt: '2026-03-01T09:00:00+00:00', engineVersion: 'test' };
  return { ...plan, layout: drawLayout({ ...input, seed, ...drawn }).layout };
}

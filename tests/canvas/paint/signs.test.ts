import { expect, it } from 'vitest';
import { BARE_LOOK } from '../../../renderer/canvas/look';
import type { CanvasColours } from '../../../renderer/canvas/paint/colours';
import type { Pen, PixelRect } from '../../../renderer/canvas/paint/pen';
import { paintSigns } from '../../../renderer/canvas/paint/rings';
import { sceneOf } from '../../../renderer/canvas/plane/scene';
import { samplePlan } from '../../builders/samplePlan';
import { lampOf, planOf, shelfOf } from '../support/plans';

/** Where signs on tray 1A are drawn, with words at these places. */
function signsAt(labels: PixelRect[]): number[][] {
  const arcs: number[][] = [];
  const ctx = new Proxy(
    { arc: (x: number, y: number) => arcs.push([x, y]) } as Record<string, unknown>,
    { get: (target, name: string) => target[name] ?? (() => undefined), set: () => true },
  ) as unknown as CanvasRenderingContext2D;
  const pen: Pen = {
    ctx,
    view: { scale: 0.5, originX: 0, originY: 400 },
    size: { width: 800, height: 500 },
    colours: { font: 'sans' } as CanvasColours,
    lengths: 'metric',
    labels,
  };
  const ringed = new Map([['tray:t1', 'note' as const]]);
  paintSigns(pen, sceneOf(samplePlan().rack, 'above', 's1'), { ...BARE_LOOK, ringed });
  return arcs;
}

it('puts a sign at the first corner that no word takes', () => {
  const [corner = []] = signsAt([]);
  const [x = 0, y = 0] = corner;
  const word = { x: x - 10, y: y - 5, w: 20, h: 10 };
  const [below = []] = signsAt([word]);
  expect(below[0]).toBe(x);
  expect(below[1]).toBeGreaterThan(y);
  // A word that ends just beside the sign lets it be.
  expect(signsAt([{ ...word, x: x - 30 }])).toEqual([corner]);
});

it('shows each lamp as bright as its photon flux, one that is off dark', () => {
  const rack = planOf([
    shelfOf('s1', 1, {
      lamps: [
        lampOf('l1'),
        lampOf('l2', { dimming: 0.25 }),
        lampOf('l3', { dimming: 0 }),
        lampOf('l4', { kindId: 'weak' }),
      ],
    }),
  ]).rack;
  const [kind] = rack.lampKinds;
  if (!kind) throw new Error('the rack has a kind of lamp');
  // 80 and 20 µmol/s at full output.
  const weak = { ...kind, id: 'weak', output: { kind: 'photons', fluxUmolS: 20 } } as const;
  const { things } = sceneOf({ ...rack, lampKinds: [kind, weak] }, 'front', null);
  expect(things.flatMap((t) => (t.kind === 'lamp' ? [t.glow] : []))).toEqual([1, 0.25, 0, 0.25]);
});

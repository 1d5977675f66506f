import { expect, it } from 'vitest';
import type { CanvasColours } from '../../../renderer/canvas/paint/colours';
import { paintTrayTags } from '../../../renderer/canvas/paint/trayTags';
import { sceneOf } from '../../../renderer/canvas/plane/scene';
import { samplePlan } from '../../builders/samplePlan';

it('writes the codes of all trays, or of those alone that an outline would strike through', () => {
  const written: string[] = [];
  const ctx = new Proxy(
    {
      fillText: (text: string) => written.push(text),
      measureText: () => ({ width: 12 }),
    } as Record<string, unknown>,
    { get: (target, name: string) => target[name] ?? (() => undefined), set: () => true },
  ) as unknown as CanvasRenderingContext2D;
  const pen = {
    ctx,
    view: { scale: 0.2, originX: 50, originY: 400 },
    size: { width: 600, height: 500 },
    colours: { ink: '#000', font: 'sans' } as CanvasColours,
    lengths: 'metric' as const,
  };
  const scene = sceneOf(samplePlan().rack, 'all', null);
  paintTrayTags(pen, scene);
  expect(written.splice(0)).toEqual(['1A', '2A']);
  paintTrayTags(pen, scene, ['tray:t2', 'pot:t1:1:1']);
  expect(written).toEqual(['2A']);
});

import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { PotPaint, RackLook } from '../../../renderer/canvas/look';
import type { CanvasColours } from '../../../renderer/canvas/paint/colours';
import { PotPicture } from '../../../renderer/canvas/paint/potPicture';
import { sceneOf } from '../../../renderer/canvas/plane/scene';
import { samplePlan } from '../../builders/samplePlan';

/** A drawing surface that counts the pictures copied onto it and takes everything else in silence. */
function surface() {
  const copied = vi.fn();
  const ctx = new Proxy({ drawImage: copied } as Record<string, unknown>, {
    get: (target, name: string) => target[name] ?? (() => undefined),
    set: () => true,
  });
  return { ctx: ctx as unknown as CanvasRenderingContext2D, copied };
}

describe('the picture of the pots', () => {
  const made: ReturnType<typeof surface>[] = [];
  beforeEach(() => {
    made.length = 0;
    vi.stubGlobal('document', {
      createElement: () => {
        const own = surface();
        made.push(own);
        return { width: 0, height: 0, getContext: () => own.ctx };
      },
    });
  });
  afterEach(() => vi.unstubAllGlobals());

  const scene = sceneOf(samplePlan().rack, 'all', null);
  const count = scene.pots.length;
  const paint = (fill: string): PotPaint => ({ fill, ink: '#000' });
  const looks = (fills: Record<string, string> = {}): RackLook => ({
    potPaint: new Map(scene.pots.map(({ pot }) => [pot.id, paint(fills[pot.id] ?? '#fff')])),
    ringed: new Map(),
    editable: false,
  });
  const penOn = (ctx: CanvasRenderingContext2D, originX = 50) => ({
    ctx,
    view: { scale: 0.2, originX, originY: 400 },
    size: { width: 600, height: 500 },
    colours: { pot: '#eee', potLine: '#111', ink: '#000', font: 'sans' } as CanvasColours,
    lengths: 'metric' as const,
  });
  /** Copies of pots onto the bitmap: the last surface that was made and is no sprite. */
  const copies = () => made.reduce((sum, { copied }) => sum + copied.mock.calls.length, 0);

  it('is painted pot by pot while the rack moves, and kept once it stands still', () => {
    const picture = new PotPicture(1);
    const screen = surface();
    picture.paint(penOn(screen.ctx), scene, looks());
    expect(screen.copied).toHaveBeenCalledTimes(count);
    picture.paint(penOn(screen.ctx), scene, looks());
    // All pots on the bitmap, and the bitmap on the screen.
    expect(copies()).toBe(count);
    expect(screen.copied).toHaveBeenCalledTimes(count + 1);
    picture.paint(penOn(screen.ctx, 60), scene, looks());
    expect(screen.copied).toHaveBeenCalledTimes(2 * count + 1);
  });

  it('paints only the pot that looks different', () => {
    const picture = new PotPicture(1);
    const screen = surface();
    for (let i = 0; i < 2; i++) picture.paint(penOn(screen.ctx), scene, looks());
    const before = copies();
    const first = scene.pots[0]?.pot.id ?? '';
    picture.paint(penOn(screen.ctx), scene, looks({ [first]: '#f00' }));
    expect(copies() - before).toBe(1);
    picture.paint(penOn(screen.ctx), scene, looks({ [first]: '#f00' }));
    expect(copies() - before).toBe(1);
  });

  it('paints all of them where all look different', () => {
    const picture = new PotPicture(1);
    const screen = surface();
    for (let i = 0; i < 2; i++) picture.paint(penOn(screen.ctx), scene, looks());
    const before = copies();
    const other = Object.fromEntries(scene.pots.map(({ pot }) => [pot.id, '#0f0']));
    picture.paint(penOn(screen.ctx), scene, looks(other));
    expect(copies() - before).toBe(count);
  });
});

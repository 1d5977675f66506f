import { describe, expect, it } from 'vitest';
import { setDrainPlace, setLeadEnd } from '../../renderer/document/commands';
import { readPlan, writeCompact } from '../../renderer/document/open';
import { drainPoint } from '../../renderer/engine/geometry';
import { endSide, leadOf } from '../../renderer/engine/lamps';
import { defaultOptions, printed, type PrintableName } from '../../renderer/print';
import type { Plan } from '../../shared-types/plan';
import { example } from '../builders/examplePlans';
import { run } from '../builders/run';

const plan = example('basil');
const [tray] = plan.rack.shelves[0]?.trays ?? [];
const lampIds = plan.rack.shelves[0]?.lamps.map(({ id }) => id) ?? [];
if (!tray) throw new Error('the example has trays');

const chart = (of: Plan, name: PrintableName, behind = false): string =>
  printed(of, name, { ...defaultOptions('A4'), behind, trayIds: [tray.id] })?.html ?? '';

/** Where marks of a class are drawn on a page, mm. */
function marks(html: string, kind: 'drain' | 'lead'): { x: number; y: number; turn: number }[] {
  const at =
    kind === 'drain'
      ? /class="drain"><circle cx="([\d.]+)" cy="([\d.]+)"()/g
      : /class="lead" transform="translate\(([\d.]+) ([\d.]+)\) rotate\((\d+)\)/g;
  const found = [...html.matchAll(at)].map(([, x, y, turn]) => ({
    x: Number(x),
    y: Number(y),
    turn: Number(turn),
  }));
  // The last of them explains it in the key.
  return found.slice(0, -1);
}

describe('landmarks', () => {
  it('are not on charts of a plan that tells none, and taking them back leaves the plan as it was', () => {
    expect(chart(plan, 'tray-charts')).not.toMatch(/class="(drain|lead)"|drain of|lead of/);
    const told = run(plan, setDrainPlace, { trayIds: [tray.id], place: 'back' });
    expect(run(told, setDrainPlace, { trayIds: [tray.id], place: null })).toEqual(plan);
    const led = run(plan, setLeadEnd, { lampIds, end: 'left' });
    expect(run(led, setLeadEnd, { lampIds, end: null })).toEqual(plan);
    const read = readPlan(writeCompact(led));
    expect(read.ok && read.plan).toEqual(led);
  });

  it('stand where they are as one sees them, from behind on the other side', () => {
    const told = run(plan, setDrainPlace, { trayIds: [tray.id], place: 'back-right' });
    const led = run(told, setLeadEnd, { lampIds, end: 'left' });
    for (const behind of [false, true]) {
      const html = chart(led, 'tray-charts', behind);
      const pots = [...html.matchAll(/<g data-pot="[^"]*"><circle cx="([\d.]+)" cy="([\d.]+)"/g)];
      const [xs, ys] = [1, 2].map((i) => pots.map((pot) => Number(pot[i])));
      const [drain] = marks(html, 'drain');
      expect(drain?.x, 'right, from behind left').toSatisfy((x: number) =>
        behind ? x < Math.min(...(xs ?? [])) : x > Math.max(...(xs ?? [])),
      );
      expect(drain?.y, 'back, from behind near').toSatisfy((y: number) =>
        behind ? y > Math.max(...(ys ?? [])) : y < Math.min(...(ys ?? [])),
      );
      const leads = marks(html, 'lead');
      expect(leads).toHaveLength(lampIds.length);
      for (const { x, turn } of leads) {
        expect(turn).toBe(behind ? 0 : 180);
        expect(behind ? x > Math.max(...(xs ?? [])) : x < Math.min(...(xs ?? []))).toBe(true);
      }
      expect(html).toContain('drain of the tray');
      expect(html).toContain('lead of a lamp');
    }
    expect(marks(chart(led, 'shelf-charts'), 'drain')).toHaveLength(1);
    expect(marks(chart(led, 'shelf-charts'), 'lead')).toHaveLength(lampIds.length);
  });

  it('turn with the lamp, anticlockwise from above, and grow with the tray', () => {
    expect([0, 90, 180, 270, -90, 44].map((deg) => endSide('right', deg))).toEqual([
      ...['right', 'back', 'left', 'front', 'front', 'right'],
    ]);
    expect(endSide('left', 90)).toBe('front');
    const [lamp] = plan.rack.shelves[0]?.lamps ?? [];
    const [kind] = plan.rack.lampKinds;
    if (!lamp || !kind) throw new Error('the example has lamps');
    const hung = { ...lamp, xMm: 600, yMm: 300, rotationDeg: 90, leadEnd: 'right' as const };
    // A strip of 1150 mm, whose right end points to the back.
    expect(leadOf(hung, { ...kind, lengthMm: 1150 })).toEqual({
      xMm: expect.closeTo(600, 6),
      yMm: expect.closeTo(875, 6),
      towards: 'back',
    });
    expect(leadOf(hung, { ...kind, shape: 'spot' })).toBeNull();
    expect(drainPoint({ widthMm: 400, depthMm: 300, drainPlace: 'front' })).toEqual({
      xMm: 200,
      yMm: 0,
    });
    expect(drainPoint({ widthMm: 400, depthMm: 300 })).toBeNull();
  });
});

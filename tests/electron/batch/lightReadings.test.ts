import { describe, expect, it } from 'vitest';
import { lightStamp } from '../../../renderer/engine/lamps';
import type { LightReading } from '../../../shared-types/light';
import { answerOf, planOf, stripPpfd, lumens, HEIGHT, wanted, bare } from './lightAnswer';

describe('light from the shell: meter readings', () => {
  const places = [100, 350, 600, 850, 1100].flatMap((x) => [100, 300, 500].map((y) => ({ x, y })));
  const at = (x: number, y: number) =>
    [150, 450].reduce((sum, lampY) => sum + stripPpfd(20, 1200, 260, x - 600, y - lampY), 0);
  const reading = (i: number, change: Partial<LightReading> = {}): LightReading => {
    const { x, y } = places[i] ?? { x: 0, y: 0 };
    return {
      id: `r${900 + i}`,
      shelfId: 's1',
      xMm: x,
      yMm: y,
      zMm: HEIGHT,
      value: 0.8 * at(x, y),
      unit: 'ppfd',
      luxPerPpfd: null,
      date: '2026-02-03',
      note: '',
      ...change,
    };
  };

  it('turn the estimate into calibrated figures, and leave an outlier out', async () => {
    const readings = places.map((_, i) => reading(i));
    // One in lux at 70 to the PPFD, and one misread by half.
    const lux = readings[1];
    if (lux) Object.assign(lux, { unit: 'lux', luxPerPpfd: 70, value: lux.value * 70 });
    const off = readings[7];
    if (off) off.value *= 1.5;
    const found = await answerOf(planOf([bare], [lumens], { readings }));
    found.pots.forEach((pot, i) => {
      expect(pot.source).toBe('calibrated');
      expect(pot.ppfd_umol_m2_s / (0.8 * (wanted[i] ?? NaN))).toBeCloseTo(1, 3);
      // Readings settle the factor of the lumens.
      expect(pot).toMatchObject({ ppfd_lowest: null, ppfd_highest: null });
    });
    expect(found.shelves[0]).toMatchObject({ source: 'calibrated', mean_lowest: null });
    expect(found.trays[0]?.source).toBe('calibrated');
    const [fit] = found.calibration;
    expect(fit).toMatchObject({ shelf: 1, surface: 'none', readings_used: 14 });
    expect(fit?.factors).toHaveLength(1);
    expect(fit?.factors[0]).toMatchObject({ group: 'A' });
    expect(fit?.factors[0]?.factor).toBeCloseTo(0.8, 3);
    expect(fit?.left_out_error_percent).toBeCloseTo(0, 1);
    expect(fit?.rms_percent).toBeCloseTo(0, 1);
    expect(fit?.readings.map((r) => r.outlier).indexOf(true)).toBe(7);
    expect(fit?.readings.filter((r) => r.outlier)).toHaveLength(1);
    expect(fit?.readings[7]?.off_percent).toBeCloseTo(50, 0);
    expect(fit?.readings[1]?.measured).toBeCloseTo(0.8 * at(100, 300), 6);
    expect(fit?.readings[1]?.estimated).toBeCloseTo(at(100, 300), 5);
    expect(fit?.readings.every((r) => r.unusable === null)).toBe(true);
  });

  it('too strange to be believed are withheld, and listed with the reason', async () => {
    // A slip of ten throughout.
    const readings = places.map((_, i) =>
      reading(i, { value: 8 * at(places[i]?.x ?? 0, places[i]?.y ?? 0) }),
    );
    const found = await answerOf(planOf([bare], [lumens], { readings }));
    expect(found.shelves[0]?.source).toBe('estimated');
    expect(found.calibration).toEqual([]);
    expect(found.withheld).toEqual([
      expect.objectContaining({
        shelf: 1,
        readings_used: 15,
        reason:
          'The readings of shelf 1 put its lamps at 8 times their figures; 0.5 to 1.5 times is ' +
          'usual. Its light stays estimated until this is settled.',
      }),
    ]);
    expect(found.withheld[0]?.factors[0]?.factor).toBeCloseTo(8, 6);
    const sound = await answerOf(planOf([bare], [lumens], { readings: [reading(0), reading(4)] }));
    expect([sound.withheld, sound.calibration.length]).toEqual([[], 1]);
  });

  it('on one shelf leave the other estimated', async () => {
    const plan = planOf([bare, { ...bare, number: 2 }], [lumens], {
      readings: [reading(0), reading(4), reading(11)],
    });
    const { shelves, pots } = await answerOf(plan);
    expect(shelves.map((row) => row.source)).toEqual(['calibrated', 'estimated']);
    expect(pots.filter((pot) => pot.source === 'calibrated')).toHaveLength(18);
    expect(pots[18]?.ppfd_umol_m2_s).toBeCloseTo(wanted[0] ?? NaN, 5);
  });

  it('of 0 throughout tell nothing of the lamps: the shelf stays estimated', async () => {
    const readings = places.map((_, i) => reading(i, { value: 0 }));
    const { pots, shelves } = await answerOf(planOf([bare], [lumens], { readings }));
    const bareFigures = await answerOf(planOf([bare], [lumens]));
    expect(shelves[0]?.source).toBe('estimated');
    expect(pots).toEqual(bareFigures.pots);
  });

  it('hold for the lamps that they were taken of: else the shelf is estimated', async () => {
    const plan = planOf([bare], [lumens]);
    const [stood] = plan.rack.shelves;
    if (!stood) throw new Error('no shelf');
    const of = lightStamp(stood, [lumens]);
    const readings = places.map((_, i) => reading(i, { of }));
    const metered = planOf([bare], [lumens], { readings });
    const still = await answerOf(metered);
    expect(still.shelves[0]?.source).toBe('calibrated');
    // Half the light, read before it was dimmed: the readings would have doubled it again.
    const dimmed = bare.lamps.map((l) => ({ ...l, dimming: l.dimming / 2 }));
    const changed = planOf([{ ...bare, lamps: dimmed }], [lumens], { readings });
    const { pots, shelves, calibration } = await answerOf(changed);
    expect(shelves[0]?.source).toBe('estimated');
    expect(calibration).toEqual([]);
    pots.forEach((pot, i) => {
      expect(pot.source).toBe('estimated');
      expect(pot.ppfd_umol_m2_s).toBeCloseTo((wanted[i] ?? NaN) / 2, 5);
      expect(pot.ppfd_lowest).not.toBeNull();
    });
    // Read again in one place, that one counts alone; the others say why they do not.
    const again = reading(0, { id: 'r990', value: 0.4 * at(100, 100) });
    const { calibration: one } = await answerOf(
      planOf([{ ...bare, lamps: dimmed }], [lumens], { readings: [...readings, again] }),
    );
    expect(one[0]?.readings_used).toBe(1);
    // One reading of 0.8 times the figures moves them most of the way.
    expect(one[0]?.factors[0]?.factor).toBeGreaterThan(0.8);
    expect(one[0]?.factors[0]?.factor).toBeLessThan(0.85);
    expect(one[0]?.readings[0]?.unusable).toContain('before');
  });

  it('where no lamp shines are unusable and say so', async () => {
    const readings = [reading(0, { zMm: 400 }), reading(1), reading(2), reading(3)];
    const { calibration } = await answerOf(planOf([bare], [lumens], { readings }));
    expect(calibration[0]?.readings[0]?.unusable).toContain('no lamp shines');
    expect(calibration[0]?.readings_used).toBe(3);
  });
});

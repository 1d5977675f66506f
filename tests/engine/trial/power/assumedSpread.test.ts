import { describe, expect, it } from 'vitest';
import { unitsOf } from '../../../../renderer/engine/trial';
import { powerNotices, spreadBetween, termPowers } from '../../../../renderer/engine/trial/power';
import { unitKinds, type Trial, type UnitKind } from '../../../../shared-types/trial/trial';
import { factorOf, inputOf, rackOf, trialOf } from '../../../builders/trialInput';

const rack = rackOf({ shelves: 6, traysPerShelf: 2, rows: 2, columns: 4 });
const POTS = 96;

function powersOf(unit: UnitKind, unitSd: number | null) {
  const expected = { plantSd: 10, unitSd, smallestDifference: 12, power: 0.8 };
  const trial: Trial = trialOf([factorOf(1, unit, 2)], { expected });
  const [power] = termPowers(unitsOf(inputOf(rack, trial)), trial, POTS);
  if (!power) throw new Error('the factor has a power');
  return { power, notices: powerNotices(trial, [power]) };
}

describe('a spread between units that nobody said', () => {
  it('is never zero, except of pots, and more between shelves than between trays', () => {
    const sdOf = (unit: UnitKind) => spreadBetween(unit, { plantSd: 10, unitSd: null });
    for (const unit of unitKinds.filter((one) => one !== 'pot')) {
      expect(sdOf(unit).assumed).toBe(true);
      expect(sdOf(unit).sd).toBeGreaterThan(0);
    }
    expect(sdOf('pot')).toEqual({ sd: 0, assumed: false });
    expect(sdOf('shelf').sd).toBeGreaterThan(sdOf('tray').sd);
  });

  it('is zero only where zero was typed', () => {
    expect(spreadBetween('tray', { plantSd: 10, unitSd: 0 })).toEqual({ sd: 0, assumed: false });
    const [assumed, typed] = [powersOf('shelf', null).power, powersOf('shelf', 0).power];
    expect(assumed.power).toBeLessThan(typed.power ?? 0);
    expect(assumed.power).toBe(powersOf('shelf', 5).power.power);
  });

  it('is named where a power rests on it', () => {
    expect(powersOf('shelf', null).notices[0]?.text).toMatch(
      /An SD of 5\.0 between shelves is assumed: nobody said it\.$/,
    );
    expect(powersOf('shelf', 5).notices[0]?.text).not.toContain('assumed');
  });

  it('plays no part where pots are the units', () => {
    expect(powersOf('pot', null).power).toEqual(powersOf('pot', 3).power);
  });
});

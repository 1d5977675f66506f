import { describe, expect, it } from 'vitest';
import { keptOfLog, matchLog, type LogSaid } from '../../../renderer/document/delivered';
import { logDelivered } from '../../../renderer/document/commands';
import { deliveredUnits } from '../../../renderer/document/queries';
import { newFlood } from '../../../renderer/document/new';
import { sheetOfText } from '../../../renderer/tables';
import type { Plan } from '../../../shared-types/plan';
import { run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';

/** The sample with a reservoir a tray. */
function tanks(): Plan {
  const plan = drawnPlan('2026-03-02');
  const flood = newFlood('z20', plan.rack);
  const zones = ['t1', 't2'].flatMap((trayId, i) =>
    flood.zones.map((zone) => ({
      ...zone,
      id: `z2${i}`,
      name: `Tank ${i + 1}`,
      trayIds: [trayId],
    })),
  );
  return { ...plan, nextId: 30, flood: { ...flood, zones } };
}

const [shelf1 = '', shelf2 = ''] = deliveredUnits(tanks()).flatMap(({ kind, id }) =>
  kind === 'bay' ? [id] : [],
);

function matched(text: string, said: LogSaid = {}, plan = tanks(), name = '') {
  const read = sheetOfText(text);
  const sheet = read.ok ? read.sheets[0] : undefined;
  const found = sheet && matchLog(plan, { ...sheet, name }, said);
  if (!found) throw new Error('a table with lines is expected');
  return {
    ...found,
    said: found.figures.map(
      ({ unitId, day, measure, value }) => `${unitId} ${day} ${measure} ${value}`,
    ),
    asked: found.questions.map(({ about, found: what }) => `${about}: ${what}`),
    out: found.leftOut.map(({ line, why }) => `${line} ${why}`),
  };
}

describe('a logger’s table', () => {
  it('may have a line a unit and day, with units in heads', () => {
    const { said, asked, out } = matched(
      'Date;Unit;EC [µS/cm];pH;Water temp. (°F);Lamp hours;PPFD (µmol/m²/s)\n' +
        '05.03.2026;Tank 1;1850;6,1;68;;\n05.03.2026;shelf 2;;;;16;212\n05.03.2026;2a;;;72,5;;\n',
    );
    expect({ asked, out }).toEqual({ asked: [], out: [] });
    expect(said).toEqual([
      'z20 2026-03-05 ec 1.85',
      'z20 2026-03-05 ph 6.1',
      'z20 2026-03-05 temperature 20',
      `${shelf2} 2026-03-05 hours 16`,
      `${shelf2} 2026-03-05 ppfd 212`,
      't2 2026-03-05 temperature 22.5',
    ]);
  });

  it('may have a column for each unit and measure, below titles and with units in a second line', () => {
    const { said, asked, shape } = matched(
      'Logger 7\nSerial no,12345\n\nTimestamp,EC_Tank1,EC_Tank2,Tank 1 pH,Battery\n,mS/cm,uS/cm,,V\n' +
        '2026-03-05T10:00:00+01:00,1.9,2000,6.0,3.1\n2026-03-05T10:10:00+01:00,2.1,2100,6.2,3.1\n',
    );
    expect(asked).toEqual([]);
    expect(shape.headLines).toEqual([4, 5]);
    expect(said).toEqual([
      'z20 2026-03-05 ec 2',
      'z21 2026-03-05 ec 2.05',
      'z20 2026-03-05 ph 6.1',
    ]);
  });

  it('may have a line a figure, with its measure and unit in the line', () => {
    const { said, asked, out } = matched(
      'time,sensor,parameter,value,unit\n2026-03-05 08:00,Tank 1,Conductivity,1.9,dS/m\n' +
        '2026-03-05 08:00,Tank 1,Temperature,70,°F\n2026-03-05 08:00,Tank 2,Oxygen,7,mg/L\n',
    );
    expect(asked).toEqual([]);
    expect(said).toEqual(['z20 2026-03-05 ec 1.9', 'z20 2026-03-05 temperature 21.1']);
    expect(out).toEqual(['4 none of EC, pH, temperature, lamp hours and PPFD']);
  });

  it('may name its measure in a title and its units in the heads, or the unit in a title', () => {
    const { said, asked } = matched(
      'EC of the reservoirs in mS/cm\nDay,Tank 1,Tank 2\n2026-03-05,1.9,2.1\n',
    );
    expect({ said, asked }).toEqual({
      said: ['z20 2026-03-05 ec 1.9', 'z21 2026-03-05 ec 2.1'],
      asked: [],
    });
    const one = matched('Date,EC (mS/cm),pH\n2026-03-05,1.9,6\n', {}, tanks(), 'Tank 2');
    expect(one.said).toEqual(['z21 2026-03-05 ec 1.9', 'z21 2026-03-05 ph 6']);
  });

  it('sums dense lines up by day: means, light while lit, hours that count up', () => {
    const lines = [...Array(144).keys()].map((i) => {
      const [h, m] = [Math.floor(i / 6), (i % 6) * 10].map((n) => String(n).padStart(2, '0'));
      const lit = i >= 36 && i < 132;
      return `2026-03-05 ${h}:${m},${20 + Math.sin((2 * Math.PI * i) / 144)},${lit ? 200 : 0.4},${lit ? (i - 35) / 6 : i < 36 ? 0 : 16}`;
    });
    const { figures, readings, out } = matched(
      `Date,Temp (°C),PPFD,Lamp hours\n${lines.join('\n')}\n`,
      { units: { '': shelf1 } },
    );
    expect(readings).toBe(3 * 144);
    expect(out).toEqual([]);
    expect(figures.map(({ measure, value, readings: n }) => [measure, value, n])).toEqual([
      ['temperature', 20, 144],
      ['ppfd', 200, 144],
      ['hours', 16, 144],
    ]);
    expect(figures[0]?.lowest).toBeCloseTo(19, 2);
    expect(figures[0]?.highest).toBeCloseTo(21, 2);
  });

  it('leaves out what no meter of the kind can show, and hours that jump', () => {
    const { said, out, figures } = matched(
      'Date,Unit,Temp (°C),Hours\n2026-03-05,Tank 1,-127,3\n2026-03-05,Tank 1,20,9\n2026-03-05,Tank 1,,4\nyesterday,Tank 1,20,4\n2026-03-06,Tank 1,about 20,\n',
    );
    expect(said).toEqual(['z20 2026-03-05 temperature 20']);
    expect(figures[0]?.readings).toBe(1);
    expect(out).toEqual([
      '2 temperature of −127 °C: −20 to 60 °C is expected',
      '2 several lamp hours on 2026-03-05 that do not count up',
      '3 several lamp hours on 2026-03-05 that do not count up',
      '4 several lamp hours on 2026-03-05 that do not count up',
      '5 a day such as 2026-03-31 is expected',
      '6 a number is expected',
    ]);
  });

  it('accounts for every filled cell of figures', () => {
    const { readings, leftOut, blank } = matched(
      'Date,Unit,EC (mS/cm),pH\n2026-03-05,Tank 1,1.9,-\n2026-03-05,Tank 9,1.8,6\n2026-03-06,Tank 2,x,6.1\n',
    );
    expect(readings + leftOut.length + blank).toBe(6);
  });
});

describe('a person is asked', () => {
  it('of days that can be read in two ways, unless only one way is of the trial', () => {
    const table = 'Date,Unit,EC (mS/cm)\n03/04/2026,Tank 1,1.9\n03/05/2026,Tank 1,1.9\n';
    expect(matched(table).asked).toEqual([
      'column Date: its days, such as 03/04/2026, can be read with the day or the month first',
    ]);
    expect(matched(table, { dayOrder: 'month-first' }).said).toEqual([
      'z20 2026-03-04 ec 1.9',
      'z20 2026-03-05 ec 1.9',
    ]);
    const plan = tanks();
    const trial = plan.trial && {
      ...plan.trial,
      startDate: '2026-03-02',
      harvestDate: '2026-04-01',
    };
    expect(matched(table, {}, { ...plan, trial }).said[0]).toBe('z20 2026-03-04 ec 1.9');
  });

  it('of units that the rack has not, and takes them as assigned', () => {
    const table = 'Date,Probe,EC (mS/cm)\n2026-03-05,S1,1.9\n2026-03-05,S2,2.1\n';
    expect(matched(table).asked).toEqual(['unit S1: 1 figure of it', 'unit S2: 1 figure of it']);
    const said = { units: { S1: 'z20', S2: null } };
    const found = matched(table, said);
    expect(found).toMatchObject({
      asked: [],
      said: ['z20 2026-03-05 ec 1.9'],
      out: ['3 S2: not used'],
    });
    // The next table of this logger asks no more.
    const kept = run(tanks(), logDelivered, { entries: [], heads: keptOfLog(found, said) });
    expect(matched(table, {}, kept).asked).toEqual([]);
    expect(matched('Date,EC (mS/cm)\n2026-03-05,1.9\n').asked).toEqual([
      'lines without a unit: 1 figure of it',
    ]);
  });

  it('of units of measure that nobody says and that are unlikely', () => {
    const of = (head: string, value: string) =>
      matched(`Date,Unit,${head}\n2026-03-05,Tank 1,${value}\n`).asked;
    expect(of('EC', '1850')).toEqual(['column EC: 1850 is an unlikely EC in mS/cm']);
    expect(of('EC', '1.85')).toEqual([]);
    expect(of('Temp', '68')).toEqual(['column Temp: 68 is an unlikely temperature in °C']);
    expect(of('EC (ppm)', '900')).toEqual(['column EC (ppm): EC cannot be told from ppm']);
    expect(of('EC (ppm 500)', '900')).toEqual([]);
    expect(of('Light (lux)', '9000')).toEqual(['column Light (lux): PPFD cannot be told from lux']);
  });

  it('of columns of numbers, of two for one figure, and of figures that stand', () => {
    const dated = (heads: string, cells: string, plan = tanks()) =>
      matched(`Date,Unit,${heads}\n2026-03-05,Tank 1,${cells}\n`, {}, plan).asked;
    expect(dated('EC (mS/cm),ORP', '1.9,300')).toEqual([
      'column ORP: holds 1 number, and its head says nothing that is logged',
    ]);
    expect(dated('EC (mS/cm),EC probe (mS/cm)', '1.9,1.8')).toEqual([
      'columns EC (mS/cm) and EC probe (mS/cm): give the same measure of the same unit',
    ]);
    expect(dated('Temp min,Temp mean,Temp max', '18,20,22')).toEqual([]);
    expect(dated('Temp min,Temp max', '18,22')).toHaveLength(3);
    const entries = [{ unitId: 'z20', date: '2026-03-05', figures: { ec: 1.8 } }];
    expect(dated('EC (mS/cm)', '1.9', run(tanks(), logDelivered, { entries }))).toEqual([
      'EC of 2026-03-05: 1.9 would replace the 1.8 that is logged',
    ]);
  });

  it('of columns where there is no day or nothing that is logged', () => {
    expect(matched('a,b\nx,y\n').asked).toEqual([
      'columns: none holds the day',
      'columns: none holds EC, pH, temperature, lamp hours or PPFD',
    ]);
  });
});

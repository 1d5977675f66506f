import * as commands from '../../../../renderer/document/commands';
import { pot, measurement, name, date, act } from './dice';
import type { Move } from './dice';

export const recordsMoves: Move[] = [
  act(commands.blindTrial)((_p, d) => ({ date: date(d) })),
  act(commands.openBlinding)((_p, d) => ({ date: date(d), reason: name(d) })),
  act(commands.enterValues)((p, d) => ({
    measurementId: measurement(p, d),
    entries: [
      { potId: pot(p, d), value: d.number() },
      { potId: pot(p, d), value: null },
    ],
    second: d.yes(),
  })),
  act(commands.importValues)((p, d) => ({
    values: [{ measurementId: measurement(p, d), potId: pot(p, d), value: d.number() }],
    marks: [{ potId: pot(p, d), mark: 'missing' }],
  })),
  act(commands.markPots)((p, d) => ({
    potIds: [pot(p, d)],
    mark: d.yes() ? { mark: 'dead', date: date(d), reason: 'rot' } : null,
    second: d.yes(),
  })),
  act(commands.settleMark)((p, d) => ({
    potId: pot(p, d),
    mark: d.yes() ? { mark: 'dead', date: date(d), reason: '' } : null,
  })),
  act(commands.notePot)((p, d) => ({
    potId: pot(p, d),
    note: { text: d.yes() ? 'yellow' : '', files: d.yes() ? ['photos/1.jpg'] : [] },
  })),
  act(commands.dateValues)((p, d) => ({
    measurementId: measurement(p, d),
    potIds: [pot(p, d), pot(p, d)],
    day: d.yes() ? date(d) : null,
  })),
  act(commands.setTare)((p, d) => ({
    measurementId: measurement(p, d),
    tare: d.yes() ? 2.5 : 0,
  })),
  act(commands.settleValue)((p, d) => ({
    measurementId: measurement(p, d),
    potId: pot(p, d),
    value: d.number(),
  })),
  act(commands.addIncident)((_p, d) => ({ date: date(d), text: 'pump off', about: [] })),
  act(commands.editIncident)((p, d) => ({
    incidentId: d.one(
      p.records.incidents.map((i) => i.id),
      'i999',
    ),
    patch: { date: date(d) },
  })),
  act(commands.removeIncident)((p, d) => ({
    incidentId: d.one(
      p.records.incidents.map((i) => i.id),
      'i999',
    ),
  })),
  act(commands.logDelivered)((_p, d) => ({
    entries: [
      {
        unitId: d.one(['t1', 't2', 'b1'], 'z999'),
        date: date(d),
        figures: d.yes() ? { ec: d.number(), ph: 6 } : { ec: null, ph: 5.8 },
      },
    ],
  })),
  act(commands.removeDelivered)((_p, d) => ({
    unitId: d.one(['t1', 't2', 'b1'], 'z999'),
    date: date(d),
  })),
];

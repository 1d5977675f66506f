import * as commands from '../../../../renderer/document/commands';
import { newFlood } from '../../../../renderer/document/new';
import { shelf, tray, lamp, zone, kind, name, act } from './dice';
import type { Move } from './dice';

export const lightMoves: Move[] = [
  act(commands.partLamps)((p, d) => ({ shelfId: shelf(p, d) })),
  act(commands.addLampKind)((_p, d) => (d.yes() ? {} : { kind: { powerW: d.number() } })),
  act(commands.editLampKind)((p, d) => ({ kindId: kind(p, d), patch: { name: name(d) } })),
  act(commands.removeLampKind)((p, d) => ({ kindId: kind(p, d) })),
  act(commands.restateOutput)((p, d) => ({
    kindId: kind(p, d),
    as: d.yes() ? 'watts' : d.yes() ? 'photons' : 'lumens',
  })),
  act(commands.addLamp)((p, d) => ({ shelfId: shelf(p, d), kindId: kind(p, d), count: 2 })),
  act(commands.setLeadEnd)((p, d) => ({
    lampIds: [lamp(p, d)],
    end: d.yes() ? null : d.one(['left'], 'right'),
  })),
  act(commands.editLamps)((p, d) => ({
    edits: [{ lampId: lamp(p, d), patch: d.yes() ? { dimming: d.number() } : { kindId: 'k77' } }],
  })),
  act(commands.setRota)((p, d) => {
    const [one, other] = [tray(p, d), tray(p, d)];
    const swap = {
      [one]: { placeOf: other, turned: d.yes() },
      [other]: { placeOf: one, turned: true },
    };
    return { rota: d.yes() ? [] : [{ fromDay: d.yes() ? 3 : d.number(), toDay: 9, places: swap }] };
  }),
  act(commands.placeInRota)((p, d) => ({
    period: d.yes() ? 0 : d.number(),
    trayId: tray(p, d),
    place: { placeOf: tray(p, d), turned: d.yes() },
  })),
  act(commands.arrangeLamps)((p, d) => ({
    shelfId: shelf(p, d),
    lamps: [
      {
        kindId: kind(p, d),
        xMm: d.number(),
        yMm: 5,
        zMm: 400,
        rotationDeg: 0,
        tiltDeg: 0,
        dimming: 0.5,
        group: 'a',
      },
    ],
  })),
  act(commands.editLight)((_p, d) => ({
    patch: { targetPpfdUmol: { lowest: d.number(), highest: d.number() } },
  })),
  act(commands.addReadings)((p, d) => ({
    readings: [
      {
        shelfId: shelf(p, d),
        xMm: d.number(),
        yMm: 5,
        zMm: 5,
        value: 200,
        unit: d.yes() ? 'lux' : 'ppfd',
        luxPerPpfd: d.yes() ? 70 : null,
        date: null,
        note: '',
      },
    ],
  })),
  act(commands.editReading)((p, d) => ({
    readingId: d.one(
      p.light.readings.map((r) => r.id),
      'r999',
    ),
    patch: { value: d.number() },
  })),
  act(commands.keepReadings)((p) => ({ readingIds: p.light.readings.map((r) => r.id) })),
  act(commands.removeReadings)((p) => ({ readingIds: p.light.readings.map((r) => r.id) })),
  act(commands.startFlood)(() => ({})),
  act(commands.setFlood)((p, d) => ({
    flood: d.yes() ? { ...newFlood('z777', p.rack), trayMassKg: d.number() } : null,
  })),
  act(commands.editFlood)((_p, d) => ({ patch: { trayMassKg: d.number() } })),
  act(commands.addZone)(() => ({})),
  act(commands.editZone)((p, d) => ({
    zoneId: zone(p, d),
    patch: d.yes() ? { floodDepthMm: d.number() } : { trayIds: [tray(p, d)] },
  })),
  act(commands.removeZone)((p, d) => ({ zoneId: zone(p, d) })),
  act(commands.addMedium)((p, d) => ({
    medium: {
      name: name(d),
      porosity: 0.8,
      dryDensityKgM3: d.number(),
      waterAtDrainShare: 0.4,
      trayIds: [tray(p, d)],
    },
  })),
  act(commands.addCircuit)(() => ({})),
];

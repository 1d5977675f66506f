import { describe, expect, it } from 'vitest';
import { applyCommand } from '../../../renderer/document/apply';
import { addIncident, editIncident, enterValues } from '../../../renderer/document/commands';
import { askedAmong } from '../../../renderer/panes/records/panels/DishPanel';
import { placesIn } from '../../../renderer/panes/records/incidents/incidentPlaces';
import { incidentsHtml } from '../../../renderer/print/report/sections/cautions';
import { html } from '../../../renderer/print/html';
import { potsToMeasure } from '../../../renderer/document/queries';
import { MOST_PHOTO_SIGNS } from '../../../shared-types/records';
import type { Plan } from '../../../shared-types/plan';
import { refusal, run } from '../../builders/run';
import { drawnPlan } from '../../builders/samplePlan';

const PHOTO = 'data:image/jpeg;base64,';
const incident = { date: '2026-03-19', text: 'Lamp died', about: ['l2'] };

describe('an incident', () => {
  it('is offered for a lamp, and for several pots, their trays and shelves', () => {
    const plan = drawnPlan();
    expect(placesIn(plan, ['lamp:l2'])[0]).toMatchObject({ value: 'selected', ids: ['l2'] });
    const places = placesIn(plan, ['pot:t1:1:1', 'pot:t1:1:2', 'pot:t2:1:1']);
    expect(places.map(({ value, ids }) => [value, ...ids])).toEqual([
      ['selected', 't1:1:1', 't1:1:2', 't2:1:1'],
      ['trays', 't1', 't2'],
      ['shelves', 's1', 's2'],
      ['rack'],
    ]);
  });

  it('takes a small photo, and refuses a large one or another kind', () => {
    const add = (photo: string) => applyCommand(drawnPlan(), addIncident, { ...incident, photo });
    expect(add(`${PHOTO}/9j/4AAQ`).ok).toBe(true);
    expect(add(PHOTO + 'A'.repeat(MOST_PHOTO_SIGNS - PHOTO.length)).ok).toBe(true);
    expect(add(PHOTO + 'A'.repeat(MOST_PHOTO_SIGNS)).ok).toBe(false);
    expect(add('data:image/svg+xml;base64,PHN2Zz4=').ok).toBe(false);
  });

  it('gets a photo later, or loses it; what the program wrote keeps as it is', () => {
    const plan = run(drawnPlan(), addIncident, incident);
    const incidentId = plan.records.incidents[0]?.id ?? '';
    const photo = `${PHOTO}/9j/4AAQ`;
    const seen = run(plan, editIncident, { incidentId, patch: { photo } });
    expect(seen.records.incidents).toEqual([{ id: incidentId, ...incident, photo }]);
    const gone = run(seen, editIncident, { incidentId, patch: { photo: null } });
    expect(gone.records.incidents).toEqual(plan.records.incidents);
    const kept = {
      ...plan,
      records: { ...plan.records, incidents: [{ id: 'i9', ...incident, kept: true as const }] },
    };
    expect(refusal(kept, editIncident, { incidentId: 'i9', patch: { photo } })).not.toBe('done');
  });

  it('stands with its photo in the report', () => {
    const plan = run(drawnPlan(), addIncident, { ...incident, photo: `${PHOTO}/9j/4AAQ` });
    const { markup } = html`${incidentsHtml(plan, { leftOut: [], raw: null } as never)}`;
    expect(markup).toContain('2026-03-19: Lamp died');
    expect(markup).toContain(`src="${PHOTO}/9j/4AAQ"`);
  });
});

describe('one value filled into many pots', () => {
  const bounded = (): Plan => {
    const plan = drawnPlan();
    if (!plan.trial) throw new Error('the sample has a trial');
    const measurements = plan.trial.measurements.map((m) => ({ ...m, highest: 50 }));
    return { ...plan, trial: { ...plan.trial, measurements } };
  };
  const fill = (value: number) => {
    const pots = potsToMeasure(bounded());
    const entries = pots.map(({ id }) => ({ potId: id, value }));
    const plan = run(bounded(), enterValues, { measurementId: 'm2', entries });
    return askedAmong(plan, { id: 'm2' }, pots);
  };

  it('is asked about as typed ones are, the first pot by name and how many more', () => {
    expect(fill(51)).toEqual({
      said: '1A-A1: fresh weight at harvest 51 g is outside 0 to 50. 11 more pots asked about alike; F8 goes on.',
      cell: { potId: 't1:1:1', measurementId: 'm2' },
    });
    expect(fill(50)).toBeNull();
  });
});

import { newFlood } from '../../../renderer/document/new';
import type { Medium } from '../../../shared-types/flood';
import type { Plan } from '../../../shared-types/plan';
import type { Factor, LevelSettings } from '../../../shared-types/trial/trial';
import { drawnPlan } from '../../builders/samplePlan';

export function mediumOf(change: Partial<Medium> & Pick<Medium, 'id'>): Medium {
  return {
    name: 'bark',
    porosity: 0.5,
    dryDensityKgM3: 200,
    waterAtDrainShare: 0.2,
    trayIds: [],
    ...change,
  };
}

/** Changes one factor of a plan. */
export function withFactor(plan: Plan, id: string, change: Partial<Factor>): Plan {
  if (!plan.trial) return plan;
  const factors = plan.trial.factors.map((f) => (f.id === id ? { ...f, ...change } : f));
  return { ...plan, trial: { ...plan.trial, factors } };
}

/** Gives levels their settings, by level id; each factor is applied through what they are of. */
export function withSettings(plan: Plan, settings: Record<string, LevelSettings>): Plan {
  const { trial } = plan;
  if (!trial) return plan;
  const factors = trial.factors.map((factor): Factor => {
    const through = factor.levels.map(({ id }) => settings[id]?.through).find((x) => x);
    const levels = factor.levels.map((level) => {
      const own = settings[level.id];
      return own ? { ...level, settings: own } : level;
    });
    return { ...factor, levels, ...(through && { appliedThrough: through }) };
  });
  return { ...plan, trial: { ...trial, factors } };
}

/**
 * The sample with a drawn layout (light high on shelf 1 and low on shelf 2; bark and clay by turns
 * from pot to pot), two zones, one a tray, and two media that no tray holds: n1 porous by a half, n2
 * by nine tenths.
 */
export function drawnWithWater(): Plan {
  const plan = drawnPlan();
  const flood = newFlood('z1', plan.rack);
  const [zone] = flood.zones;
  if (!zone) throw new Error('the flooding has no zone');
  const zones = [
    { ...zone, id: 'z1', name: 'A', trayIds: ['t1'] },
    { ...zone, id: 'z2', name: 'B', trayIds: ['t2'] },
  ];
  const media = [
    mediumOf({ id: 'n1', name: 'bark' }),
    mediumOf({ id: 'n2', name: 'clay', porosity: 0.9, dryDensityKgM3: 400 }),
  ];
  return { ...plan, flood: { ...flood, zones, media } };
}

export type LightSettings = Omit<Extract<LevelSettings, { through: 'light' }>, 'through'>;

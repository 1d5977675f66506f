import type { StageReport } from '../constraint/prepared';
import type { Site } from '../site/site';

/** One draw: for every tier of the site the treatment (index of `combinations`) of every unit. */
export interface Drawn {
  treatmentOf: Int32Array[];
  candidates: number;
  stages: StageReport[];
}

/** A trial made ready to be drawn many times, as a randomisation test or a rehearsal does. */
export interface PreparedDraw {
  site: Site;
  draw(seed: string): Drawn;
}

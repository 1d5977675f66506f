import type { Incident } from '../../../shared-types/records';
import { Refusal } from '../command';

/** All photos of a plan together, or each save would take its time. */
const MOST_SIGNS_IN_ALL = 20_000_000;

/** Refuses incidents whose photos are more than a file keeps. */
export function checkPhotos(incidents: readonly Pick<Incident, 'photo'>[]): void {
  const signs = incidents.reduce((sum, { photo = '' }) => sum + photo.length, 0);
  if (signs > MOST_SIGNS_IN_ALL) {
    throw new Refusal(
      'The photos of this plan have 20 MB together, the most that it keeps. Write the path of this one into the note on its pot.',
    );
  }
}

import { z } from 'zod';
import {
  recentPictureSchema,
  type RecentPicture,
} from '../../../shared-types/window/rackThumbnail';
import { recentPictureOf } from '../../derive';
import type { Kept, Stores } from '../../store/context';

/** As many as recent plans are listed. */
const MOST = 12;

/** Pictures of the plans that were open, the last one first. Kept on this computer, too. */
export const RECENT_PICTURES: Kept<readonly RecentPicture[]> = {
  name: 'recent-pictures',
  initial: [],
};

/** What was kept, without what cannot be read. */
export const readRecentPictures = (value: unknown): readonly RecentPicture[] =>
  z
    .array(z.unknown())
    .catch([])
    .parse(value)
    .flatMap((one) => recentPictureSchema.safeParse(one).data ?? [])
    .slice(0, MOST);

/** Keeps the picture of each plan as it was opened from a file or saved to one. */
export function keepRecentPictures({ plan: plans, session }: Stores): () => void {
  return plans.subscribe(({ savedPlan, fileRef }, before) => {
    if (!savedPlan || !fileRef) return;
    if (savedPlan === before.savedPlan && fileRef === before.fileRef) return;
    const { kept, keep } = session.getState();
    const earlier = readRecentPictures(kept.get(RECENT_PICTURES.name));
    const others = earlier.filter(({ key }) => key !== fileRef.key);
    const own = recentPictureOf(savedPlan, fileRef.key);
    keep(RECENT_PICTURES.name, [own, ...others].slice(0, MOST));
  });
}

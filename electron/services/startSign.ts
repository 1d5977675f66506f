import { writeFileSync } from 'node:fs';

/** How far a start came: something stands on the screen, or an instance that runs shows it. */
export type StartSign = 'shown' | 'handedOver';

/**
 * Tells whoever starts the app (`build/lib/start/desktop.mjs`) how far it came, by the file that they
 * name; started otherwise it tells nobody.
 */
export function startSignTo(file: string | undefined): (sign: StartSign) => void {
  return (sign) => {
    if (file === undefined) return;
    try {
      writeFileSync(file, sign);
    } catch (nobodyWaits) {
      // Whoever named it has gone, with the folder that it stood in.
      void nobodyWaits;
    }
  };
}

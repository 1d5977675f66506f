import { MOST_PHOTO_SIGNS } from '../../../../shared-types/records';
import { Refusal } from '../../../words';

/** Long sides to try, px, with the quality of JPEG: the first that is small enough is kept. */
const SIZES = [
  [1024, 0.75],
  [800, 0.65],
  [640, 0.5],
] as const;

/** A photo made small enough to stand in the plan's file, as JPEG in a data address. */
export async function reducedPhoto(file: Blob): Promise<string> {
  const picture = await createImageBitmap(file).catch(() => {
    throw new Refusal('This is no picture that can be read: JPEG, PNG or WebP is expected.');
  });
  for (const [longSide, quality] of SIZES) {
    const scale = Math.min(1, longSide / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const address = canvas.toDataURL('image/jpeg', quality);
    if (address.length <= MOST_PHOTO_SIGNS) return address;
  }
  throw new Refusal('This picture stays too large however it is reduced; choose another one.');
}

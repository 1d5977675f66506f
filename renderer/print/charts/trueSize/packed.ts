/** Where something stands on which sheet, mm from the upper left corner of the sheet's room. */
export interface SheetPlace {
  sheet: number;
  x: number;
  y: number;
}

interface Band {
  sheet: number;
  y: number;
  height: number;
  usedMm: number;
}

/**
 * Puts rectangles on as few sheets as simple means find: the highest first, side by side in bands, each
 * in the first band or sheet that has room. None may be larger than the room.
 */
export function packed(
  sizes: readonly { width: number; height: number }[],
  room: { width: number; height: number },
): SheetPlace[] {
  const bands: Band[] = [];
  const usedHeights: number[] = [];
  const stands: SheetPlace[] = sizes.map(() => ({ sheet: 0, x: 0, y: 0 }));
  const order = sizes
    .map((size, i) => ({ ...size, i }))
    .sort((a, b) => b.height - a.height || a.i - b.i);
  for (const { width, height, i } of order) {
    let band = bands.find(
      (open) => open.height >= height - 1e-6 && open.usedMm + width <= room.width + 1e-6,
    );
    if (!band) {
      const at = usedHeights.findIndex((used) => used + height <= room.height + 1e-6);
      const sheet = at < 0 ? usedHeights.length : at;
      const y = usedHeights[sheet] ?? 0;
      usedHeights[sheet] = y + height;
      band = { sheet, y, height, usedMm: 0 };
      bands.push(band);
    }
    stands[i] = { sheet: band.sheet, x: band.usedMm, y: band.y };
    band.usedMm += width;
  }
  return stands;
}

import { pinched, type Pixel, type Viewport } from '../plane/viewport';

/** The fingers on the picture, and how two of them move and zoom it. */
export class Fingers {
  private readonly at = new Map<number, Pixel>();

  /** How many there are now. */
  put(id: number, pixel: Pixel): number {
    this.at.set(id, pixel);
    return this.at.size;
  }

  lift(id: number): void {
    this.at.delete(id);
  }

  /** The picture after one of two fingers has moved; null where other fingers are on it. */
  pinch(id: number, to: Pixel, view: Viewport): Viewport | null {
    if (this.at.size !== 2 || !this.at.has(id)) return null;
    const [a, b] = [...this.at.values()];
    this.at.set(id, to);
    const [c, d] = [...this.at.values()];
    return a && b && c && d ? pinched(view, [a, b], [c, d]) : view;
  }
}

// The mark of the app, four pots on a shelf under a level line of light, as a picture of any size.
import { writePng } from './png.mjs';

/** Drawn in a square of 24 by 24, as renderer/app/Wordmark.tsx draws it, on a tile of its own. */
const tile = { radius: 5, colour: [58, 39, 68] };
const lamp = { from: [5, 6.2], to: [19, 6.2], width: 2.4, colour: [246, 217, 120] };
const shelf = { from: [4.2, 18.8], to: [19.8, 18.8], width: 2, colour: [211, 171, 228] };
const pots = { top: 12, bottom: 17.4, above: 1.5, below: 1, colour: [211, 171, 228] };

/** A picture of this many pixels a side; small ones have fewer, wider pots, so that they stay apart. */
export function markPng(size) {
  const shapes = shapesFor(size);
  const scale = size / 24;
  const pixels = Buffer.alloc(size * size * 4);
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      const at = [(x + 0.5) / scale, (y + 0.5) / scale];
      let [r, g, b, a] = [0, 0, 0, 0];
      for (const { distance, colour } of shapes) {
        // Half a pixel to either side of the edge.
        const cover = Math.min(1, Math.max(0, 0.5 - distance(at) * scale));
        const under = a * (1 - cover);
        const sum = cover + under;
        if (sum === 0) continue;
        [r, g, b] = [r, g, b].map((old, i) => (colour[i] * cover + old * under) / sum);
        a = sum;
      }
      pixels.set([r, g, b, a * 255].map(Math.round), (y * size + x) * 4);
    }
  }
  return writePng(size, pixels);
}

/** The same as a drawing. */
export function markSvg() {
  const rgb = (colour) => `rgb(${colour.join(' ')})`;
  const line = ({ from, to, width, colour }) =>
    `<path d="M${from} L${to}" stroke="${rgb(colour)}" stroke-width="${width}" stroke-linecap="round"/>`;
  const pot = (x) =>
    `<path d="M${corners(x, 1).map(String).join(' L')} Z" fill="${rgb(pots.colour)}"/>`;
  return [
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24">',
    `<rect x="1" y="1" width="22" height="22" rx="${tile.radius}" fill="${rgb(tile.colour)}"/>`,
    line(lamp),
    line(shelf),
    ...[6.3, 10.1, 13.9, 17.7].map(pot),
    '</svg>\n',
  ].join('\n');
}

function shapesFor(size) {
  const few = size <= 24;
  const [places, wider] = few ? [[7, 12, 17], 1.3] : [[6.3, 10.1, 13.9, 17.7], 1];
  return [
    { distance: box([12, 12], [11, 11], tile.radius), colour: tile.colour },
    { distance: capsule(lamp), colour: lamp.colour },
    { distance: capsule(shelf), colour: shelf.colour },
    ...places.map((x) => ({ distance: convex(corners(x, wider)), colour: pots.colour })),
  ];
}

const corners = (x, wider) => [
  [x - pots.above * wider, pots.top],
  [x + pots.above * wider, pots.top],
  [x + pots.below * wider, pots.bottom],
  [x - pots.below * wider, pots.bottom],
];

// How far a place lies outside a shape; negative inside.

const box =
  ([cx, cy], [halfX, halfY], radius) =>
  ([x, y]) => {
    const [dx, dy] = [Math.abs(x - cx) - halfX + radius, Math.abs(y - cy) - halfY + radius];
    return Math.hypot(Math.max(dx, 0), Math.max(dy, 0)) + Math.min(Math.max(dx, dy), 0) - radius;
  };

const capsule =
  ({ from, to, width }) =>
  ([x, y]) => {
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const t = ((x - from[0]) * dx + (y - from[1]) * dy) / (dx * dx + dy * dy);
    const on = Math.min(1, Math.max(0, t));
    return Math.hypot(x - from[0] - on * dx, y - from[1] - on * dy) - width / 2;
  };

/** Corners clockwise as seen; exact inside and along the sides, enough for the edge of a pixel. */
const convex =
  (points) =>
  ([x, y]) =>
    Math.max(
      ...points.map(([ax, ay], i) => {
        const [bx, by] = points[(i + 1) % points.length];
        return ((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / Math.hypot(bx - ax, by - ay);
      }),
    );

import type { PatternName } from '../../ui/colour/palette';

/**
 * Fills the current path's circle of a given radius about 0,0 with a pattern in the ink. The caller
 * has clipped. Line distance follows the radius, so that every size reads alike.
 */
export function paintPattern(
  ctx: CanvasRenderingContext2D,
  pattern: PatternName,
  ink: string,
  radius: number,
): void {
  if (pattern === 'plain') return;
  const step = Math.max(4, radius * 0.42);
  ctx.strokeStyle = ink;
  ctx.fillStyle = ink;
  ctx.lineWidth = Math.max(0.8, radius * 0.07);
  const levels: number[] = [];
  const count = Math.ceil((radius * 1.5) / step);
  for (let i = -count; i <= count; i++) levels.push(i * step);
  const reach = radius * 1.5;
  const lines = (turn: number) => {
    ctx.save();
    ctx.rotate(turn);
    ctx.beginPath();
    for (const y of levels) {
      ctx.moveTo(-reach, y);
      ctx.lineTo(reach, y);
    }
    ctx.stroke();
    ctx.restore();
  };
  switch (pattern) {
    case 'lines-right':
      lines(-Math.PI / 4);
      break;
    case 'lines-left':
      lines(Math.PI / 4);
      break;
    case 'level':
      lines(0);
      break;
    case 'upright':
      lines(Math.PI / 2);
      break;
    case 'cross':
      lines(-Math.PI / 4);
      lines(Math.PI / 4);
      break;
    case 'dots':
      ctx.beginPath();
      levels.forEach((y, row) => {
        for (const x of levels) {
          const shift = row % 2 === 0 ? 0 : step / 2;
          ctx.moveTo(x + shift + ctx.lineWidth, y);
          ctx.arc(x + shift, y, Math.max(0.9, radius * 0.085), 0, Math.PI * 2);
        }
      });
      ctx.fill();
      break;
    case 'rings':
      ctx.beginPath();
      for (let r = step * 0.8; r < radius; r += step) {
        ctx.moveTo(r, 0);
        ctx.arc(0, 0, r, 0, Math.PI * 2);
      }
      ctx.stroke();
      break;
  }
}

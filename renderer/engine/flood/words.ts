import { duration } from '../../words';

/** `needs 6 min, gets 2`. */
export function needsAndGets(needsS: number, getsS: number): string {
  const [needs, gets] = [duration(needsS), duration(getsS)];
  const unit = needs.slice(needs.indexOf(' '));
  return `needs ${needs}, gets ${gets.endsWith(unit) ? gets.slice(0, -unit.length) : gets}`;
}

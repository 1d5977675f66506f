/** This minute with the offset of where the person is, ISO 8601: `2026-03-31T14:05:00+02:00`. */
export function thisMinute(now = new Date()): string {
  const two = (n: number) => String(Math.floor(n)).padStart(2, '0');
  const east = -now.getTimezoneOffset();
  const offset = `${east < 0 ? '-' : '+'}${two(Math.abs(east) / 60)}:${two(Math.abs(east) % 60)}`;
  return `${today(now)}T${two(now.getHours())}:${two(now.getMinutes())}:00${offset}`;
}

/** Today where the person is, ISO 8601. */
export function today(now = new Date()): string {
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** Sixteen signs that no one chose, in fours to be read aloud. */
export function newSeed(): string {
  const signs = 'abcdefghkmnpqrstuvwxyz23456789';
  const lot = crypto.getRandomValues(new Uint8Array(16));
  const text = Array.from(lot, (n) => signs.charAt(n % signs.length)).join('');
  return text.replaceAll(/(.{4})(?=.)/g, '$1-');
}

const OFFSET = 0xcbf29ce484222325n;
const PRIME = 0x100000001b3n;
const MASK = 0xffffffffffffffffn;

/**
 * 64-bit FNV-1a hash of a text (its UTF-16 units, low byte first), as 16 hexadecimal digits
 * (Fowler, Noll and Vo; RFC 9923). Not for secrets: it notices change.
 */
export function hashOf(text: string): string {
  let hash = OFFSET;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    hash = ((hash ^ BigInt(unit & 0xff)) * PRIME) & MASK;
    if (unit > 0xff) hash = ((hash ^ BigInt(unit >> 8)) * PRIME) & MASK;
  }
  return hash.toString(16).padStart(16, '0');
}

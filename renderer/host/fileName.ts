/** Room for what a browser or a person adds, within the 255 bytes that most disks allow. */
const longestBytes = 200;
const reserved = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

/**
 * A file name that every disk takes, from any text: without the signs that some refuse, no device
 * of Windows, and cut where it is too long; the ending after the last dot stays.
 */
export function fileName(suggested: string): string {
  const dot = suggested.lastIndexOf('.');
  const [stem, ending] =
    dot > 0 ? [suggested.slice(0, dot), suggested.slice(dot)] : [suggested, ''];
  const plain = stem
    .replace(/[\\/:*?"<>|\u0000-\u001F\u007F]+/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  const cut = cutToBytes(plain, longestBytes).replace(/[. ]+$/, '');
  const safe = cut === '' || reserved.test(cut) ? `plan ${cut}`.trim() : cut;
  return safe + ending;
}

function cutToBytes(text: string, limit: number): string {
  const encoder = new TextEncoder();
  let kept = '';
  let bytes = 0;
  for (const sign of text) {
    bytes += encoder.encode(sign).length;
    if (bytes > limit) break;
    kept += sign;
  }
  return kept;
}

import { CFB } from '@e965/xlsx';
import { expect, test } from 'vitest';
import { zipOf } from '../../renderer/tables';
import { isWhole, zipEntries } from '../../renderer/tables/zip';

const noon = { year: 2026, month: 3, day: 5, hour: 12, minute: 34 };

test('an archive is read again by another program, text unpacked and bytes as they are', async () => {
  const photo = Uint8Array.from({ length: 5000 }, (_, i) => (i * 37) % 256);
  const text = `µmol m⁻² s⁻¹\n${'long '.repeat(5000)}`;
  const archive = await zipOf(
    new Map<string, string | typeof photo>([
      ['records.csv', text],
      ['photo.jpg', photo],
      ['empty.csv', ''],
    ]),
    noon,
  );
  expect(archive.length).toBeLessThan(photo.length + text.length / 10);
  const { FileIndex, FullPaths } = CFB.read(archive, { type: 'array' });
  const read = (name: string) => {
    const at = FullPaths.findIndex((path: string) => path.endsWith(name));
    return Buffer.from(Uint8Array.from((FileIndex[at]?.content ?? []) as Iterable<number>));
  };
  expect(read('records.csv').toString('utf8')).toBe(text);
  expect(read('photo.jpg').equals(photo)).toBe(true);
  const entries = zipEntries(archive) ?? [];
  expect(entries).toHaveLength(3);
  for (const entry of entries) expect(await isWhole(entry)).toBe(true);
});

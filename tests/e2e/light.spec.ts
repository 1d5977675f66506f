import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from './support/fixtures';
import { startExample } from './rackHelpers';

/** I = 1000 cd · cos γ below the lamp: π · 1000 lm by integration, whatever the file states. */
function cosineFile(): string {
  const angles = Array.from({ length: 37 }, (_, i) => i * 2.5);
  const candela = angles.map((a) => Math.max(0, 1000 * Math.cos((a * Math.PI) / 180)).toFixed(6));
  const counts = `1 3200 1 ${angles.length} 1 1 2 0 0 0 1 1 25`;
  const lines = ['IESNA:LM-63-2002', 'TILT=NONE', counts, angles.join(' '), '0', ...candela];
  return lines.join('\n');
}

test('a lamp takes a photometric file; a broken one names its line and changes nothing', async ({
  desktop,
}) => {
  const { page, folder } = desktop;
  const whole = join(folder, 'cosine.ies');
  const broken = join(folder, 'broken.ies');
  await writeFile(whole, cosineFile());
  await writeFile(broken, cosineFile().replace(/\n0\n/, '\nzero\n'));
  await startExample(page, 'two-lamps');
  const kind = page.locator('[data-inspector] details').first();
  await kind.locator('summary').click();
  const emission = kind.getByTestId('kind-emission');
  const before = await emission.inputValue();

  await desktop.willAnswer(broken);
  await kind.getByTestId('lamp-file-open').click();
  const problem = kind.getByTestId('lamp-file-problem');
  await expect(problem).toContainText('broken.ies, line 5');
  await expect(problem).toContainText('found “zero”');
  await expect(emission).toHaveValue(before);
  await expect(kind.getByTestId('lamp-file')).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();

  await desktop.willAnswer(whole);
  await kind.getByTestId('lamp-file-open').click();
  await expect(problem).toHaveCount(0);
  const file = kind.getByTestId('lamp-file');
  await expect(file).toContainText('3141 lm');
  await expect(file).toContainText('3200 lm');
  await expect(file.getByRole('img', { name: /Polar diagram, peak 1000 cd/ })).toBeVisible();
  await expect(emission).toHaveValue('file');

  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(emission).toHaveValue(before);
});

import type { Locator } from '@playwright/test';
import { expect } from './fixtures';

/**
 * Waits until something that takes seconds to compute says `text`, and tells what it says if not.
 * A failed try of `expect` describes the whole page, which on a page that computes takes longer
 * than the computing; this only looks.
 */
export async function shows(
  locator: Locator,
  text: string | RegExp = '',
  timeout = 60_000,
): Promise<void> {
  try {
    await locator.filter({ hasText: text }).waitFor({ timeout });
  } finally {
    await expect(locator).toContainText(text, { timeout: 1_000 });
  }
}

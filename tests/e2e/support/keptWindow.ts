import type { Browser, BrowserContext, Page } from '@playwright/test';
import type { Channel } from '../../../shared-types/window/ipcNames';
import { bridgeScript } from './shell';
import type { Shell } from './shell';

const viewport = { width: 1440, height: 900 };

/**
 * The browser's window that one test after another starts the app in. A window of its own for each
 * test costs the browser more than most tests do; the app itself starts afresh, on nothing stored.
 */
export class KeptWindow {
  private kept: { context: BrowserContext; page: Page } | null = null;
  private shell: Shell | null = null;

  constructor(
    private readonly browser: Browser,
    private readonly url: string,
  ) {}

  /**
   * Starts the app over the handlers of `shell`, and waits until its first screen is up. `watch` is
   * told of the page before.
   */
  async start(shell: Shell, watch: (page: Page) => void): Promise<Page> {
    this.shell = shell;
    const { page } = (this.kept ??= await this.open());
    watch(page);
    await page.goto(this.url);
    // A key pressed before the first screen is up reaches nobody. The host's own page has no screen.
    await page.locator('#root > *, body:not(:has(#root))').first().waitFor({ state: 'attached' });
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done))));
    return page;
  }

  /** Ends the app: what it stored is gone, and the window is as a new one. */
  async clear(): Promise<void> {
    if (!this.kept) return;
    const { context, page } = this.kept;
    for (const heard of ['console', 'pageerror', 'dialog'] as const) page.removeAllListeners(heard);
    // Its workers end with the document.
    await page.goto('about:blank');
    await page.mouse.move(-10, -10);
    await page.emulateMedia({ colorScheme: null, media: null });
    await page.setViewportSize(viewport);
    const devtools = await context.newCDPSession(page);
    const origin = new URL(this.url).origin;
    await devtools.send('Storage.clearDataForOrigin', { origin, storageTypes: 'all' });
    await devtools.detach();
  }

  /** Closes the window, in which no unload handler runs. */
  async kill(): Promise<void> {
    await this.kept?.context.close();
    this.kept = null;
  }

  private async open() {
    const context = await this.browser.newContext({ viewport });
    const page = await context.newPage();
    await page.exposeFunction('evenrackCall', (channel: Channel, request: unknown) =>
      this.shell?.answer(channel, request),
    );
    await page.addInitScript({ content: await bridgeScript() });
    return { context, page };
  }
}

import { Refusal } from '../words/refusal';

const frameId = 'evenrack-print';

/**
 * Opens the print dialogue on a whole HTML document in a frame that nobody sees. Scripts in the
 * document do not run. The frame stays until the next document: some browsers go on reading it
 * after the call returns.
 */
export async function printInFrame(window: Window, html: string): Promise<void> {
  const { document } = window;
  document.getElementById(frameId)?.remove();
  const frame = document.createElement('iframe');
  frame.id = frameId;
  frame.title = 'Printing';
  frame.setAttribute('sandbox', 'allow-same-origin allow-modals');
  frame.setAttribute('aria-hidden', 'true');
  frame.tabIndex = -1;
  frame.style.cssText = 'position:fixed;right:0;bottom:0;width:0;height:0;border:0';
  const loaded = new Promise<void>((resolve) => {
    frame.addEventListener('load', () => resolve(), { once: true });
  });
  frame.srcdoc = html;
  document.body.append(frame);
  await loaded;
  const page = frame.contentWindow;
  if (!page) throw new Refusal('printing: the browser gave no frame to print from');
  await page.document.fonts.ready;
  page.focus();
  page.print();
}

import { Refusal } from '../words';

/** What is copied, by its media type; what pastes takes the kind that it likes best. */
export type Copied = Readonly<Record<string, string | Promise<Blob>>>;

/** Puts something on the clipboard. Refuses, with what else can be done, where that is not allowed. */
export async function copyToClipboard(copied: Copied): Promise<void> {
  const items = Object.entries(copied).map(
    ([type, data]) => [type, typeof data === 'string' ? new Blob([data], { type }) : data] as const,
  );
  try {
    await navigator.clipboard.write([new ClipboardItem(Object.fromEntries(items))]);
  } catch (error) {
    // No access (DOMException), or a browser that lacks the interface or the kind (TypeError).
    if (!(error instanceof DOMException || error instanceof TypeError)) throw error;
    throw new Refusal('Nothing was copied: the clipboard cannot be reached. Save it as a file.');
  }
}

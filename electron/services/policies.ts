/**
 * What a page of the app may load and run: its own files and nothing from the network. Styles may
 * stand in the page, because widgets are placed by style attributes; scripts may not.
 */
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "object-src 'none'",
  "frame-ancestors 'none'",
].join('; ');

/**
 * For documents to be printed: styles, pictures and fonts inside the document, nothing else. In a sandbox
 * nothing runs, and the document leads nowhere by itself.
 */
const printPolicy =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; " +
  "base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox";

/** Keeps a page elsewhere from embedding, opening or reading what is served here. */
export const keptApart = {
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'referrer-policy': 'no-referrer',
};

/** With these a document to be printed is answered. */
export const printHeaders = {
  'content-type': 'text/html; charset=utf-8',
  'content-security-policy': printPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
};

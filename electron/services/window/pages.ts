/** Prints whole HTML documents out of sight; scripts in them never run. */
export interface PagePrinter {
  /** Opens the system's print dialogue; ends when it is closed. */
  print(html: string): Promise<void>;
  /** The bytes of a PDF whose pages have the document's own `@page` size. */
  pdf(html: string): Promise<Uint8Array>;
}

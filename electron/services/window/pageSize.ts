import type { WebContentsPrintOptions } from 'electron';

type PageSize = Pick<
  WebContentsPrintOptions,
  'pageSize' | 'landscape' | 'usePrinterDefaultPageSize'
>;

const MICRONS_A_MM = 1000;
/** Sheets are wider than that, and lie upright in the printer; what is narrower comes off a roll. */
const NARROWEST_SHEET_MM = 150;

/**
 * What the printer is to be told of the paper: the size of the document's first page, as its styles
 * give it. Untold, Electron takes A4, whatever the document says and the printer holds.
 */
export function pageSizeOf(html: string): PageSize {
  // What a person has written stands outside of the styles.
  const [, styles = ''] = /<style>([^]*?)<\/style>/.exec(html) ?? [];
  const found = /@page\b[^{]*\{[^}]*?\bsize:\s*([\d.]+)mm\s+([\d.]+)mm/.exec(styles);
  const [width, height] = [Number(found?.[1]), Number(found?.[2])];
  // Not found, or not a number.
  if (!(width > 0 && height > 0)) return { usePrinterDefaultPageSize: true };
  const landscape = width > height && height > NARROWEST_SHEET_MM;
  const [across, along] = landscape ? [height, width] : [width, height];
  return { pageSize: { width: microns(across), height: microns(along) }, landscape };
}

const microns = (mm: number): number => Math.round(mm * MICRONS_A_MM);

import type { exportKind, textKind } from '../../shared-types/window/ipc';
import type { z } from 'zod';

type TextKind = z.infer<typeof textKind>;
type ExportKind = z.infer<typeof exportKind>;

export interface FileFilter {
  readonly name: string;
  readonly extensions: string[];
}

/** The system's file dialogues; null: cancelled. */
export interface Dialogs {
  openFile(filters: FileFilter[]): Promise<string | null>;
  saveFile(suggestedName: string, filters: FileFilter[]): Promise<string | null>;
}

const everything: FileFilter = { name: 'All files', extensions: ['*'] };

const openFilters: Record<TextKind, FileFilter> = {
  plan: { name: 'Evenrack plan', extensions: ['evenrack', 'json'] },
  table: { name: 'Table', extensions: ['csv', 'tsv', 'txt'] },
  records: { name: 'Table or workbook', extensions: ['csv', 'tsv', 'txt', 'xlsx', 'ods'] },
  lamp: { name: 'Photometric file', extensions: ['ies'] },
};

const saveFilters: Record<ExportKind | 'plan' | 'pdf', FileFilter> = {
  plan: { name: 'Evenrack plan', extensions: ['evenrack', 'json'] },
  csv: { name: 'Table (CSV)', extensions: ['csv'] },
  svg: { name: 'Drawing (SVG)', extensions: ['svg'] },
  png: { name: 'Picture (PNG)', extensions: ['png'] },
  html: { name: 'Page (HTML)', extensions: ['html'] },
  json: { name: 'Data (JSON)', extensions: ['json'] },
  text: { name: 'Text', extensions: ['txt'] },
  zip: { name: 'Archive (ZIP)', extensions: ['zip'] },
  pdf: { name: 'PDF', extensions: ['pdf'] },
};

export function filtersToOpen(kind: TextKind): FileFilter[] {
  return [openFilters[kind], everything];
}

export function filtersToSave(kind: ExportKind | 'plan' | 'pdf'): FileFilter[] {
  return [saveFilters[kind], everything];
}

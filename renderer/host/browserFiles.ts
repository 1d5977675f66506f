import { decodeOther, isWorkbook, oneSignAByte } from '../tables/encoding';
import { Refusal } from '../words/refusal';
import { orTrouble, unlessBrowserTrouble } from './browserTrouble';
import { fileName } from './fileName';
import type { ExportKind, FileRef, TextKind } from './host';

/** The parts of the File System Access interface that the app uses; only some browsers have it. */
interface FilePickers {
  showOpenFilePicker(options: object): Promise<FileSystemFileHandle[]>;
  showSaveFilePicker(options: object): Promise<FileSystemFileHandle>;
}

interface HandleWithPermission extends FileSystemFileHandle {
  requestPermission?(options: { mode: 'read' | 'readwrite' }): Promise<PermissionState>;
  queryPermission?(options: { mode: 'read' | 'readwrite' }): Promise<PermissionState>;
}

export type SavedKind = ExportKind | 'plan';

/** Text, which is written in UTF-8, or bytes as they are. */
type Content = string | Uint8Array<ArrayBuffer>;

const toOpen: Record<TextKind, string[]> = {
  plan: ['.evenrack', '.json'],
  table: ['.csv', '.tsv', '.txt'],
  records: ['.csv', '.tsv', '.txt', '.xlsx', '.ods'],
  lamp: ['.ies', '.txt'],
};

const toSave: Record<SavedKind, { type: string; extensions: string[] }> = {
  plan: { type: 'application/json', extensions: ['.evenrack', '.json'] },
  csv: { type: 'text/csv', extensions: ['.csv'] },
  svg: { type: 'image/svg+xml', extensions: ['.svg'] },
  png: { type: 'image/png', extensions: ['.png'] },
  html: { type: 'text/html', extensions: ['.html'] },
  json: { type: 'application/json', extensions: ['.json'] },
  text: { type: 'text/plain', extensions: ['.txt'] },
  zip: { type: 'application/zip', extensions: ['.zip'] },
};

function pickers(window: Window): FilePickers | null {
  return 'showOpenFilePicker' in window && 'showSaveFilePicker' in window
    ? (window as unknown as FilePickers)
    : null;
}

export interface ReadFile {
  readonly text: string;
  /** SHA-256 of its bytes, in hexadecimal. */
  readonly seen: string;
  /** `text` holds one byte a sign: the file is a workbook. */
  readonly bytes?: true;
}

export interface PickedFile extends ReadFile {
  readonly name: string;
  /** null: this browser can read the file but not write it again. */
  readonly handle: FileSystemFileHandle | null;
}

/** What stands in a file now; `text` is null where that is no text. */
export interface HandleNow {
  readonly text: string | null;
  readonly seen: string;
  /** ISO 8601. */
  readonly changedAt: string;
}

/** Lets the person choose a file and reads it; null: cancelled. */
export async function pickFile(window: Window, kind: TextKind): Promise<PickedFile | null> {
  const offered = pickers(window);
  if (!offered) {
    const file = await pickByInput(window.document, toOpen[kind]);
    return file && { ...(await read(file, kind)), name: file.name, handle: null };
  }
  const handle = await unlessCancelled(async () => {
    const [first] = await offered.showOpenFilePicker({
      types: [{ accept: { 'text/plain': toOpen[kind] } }],
    });
    return first ?? null;
  });
  return handle && { ...(await readHandle(handle, kind)), name: handle.name, handle };
}

/** Reads a file again. Throws where the person does not allow it or the file is gone. */
export async function readHandle(handle: FileSystemFileHandle, kind: TextKind): Promise<ReadFile> {
  await askFor(handle, 'read');
  return orTrouble(handle.name, async () => read(await handle.getFile(), kind));
}

/** What a file holds now, without asking the person for anything; null: that cannot be known. */
export async function handleNow(handle: HandleWithPermission): Promise<HandleNow | null> {
  if ((await handle.queryPermission?.({ mode: 'read' })) === 'prompt') return null;
  return unlessBrowserTrouble(async () => {
    const file = await handle.getFile();
    const bytes = new Uint8Array(await file.arrayBuffer());
    const changedAt = new Date(file.lastModified).toISOString();
    return { text: utf8(bytes), seen: await digestOf(bytes), changedAt };
  });
}

/**
 * Writes a file again. The browser writes beside and puts the result in place when all of it is
 * there. Throws where the person does not allow it.
 */
export async function writeHandle(handle: FileSystemFileHandle, content: Content): Promise<void> {
  await askFor(handle, 'readwrite');
  await orTrouble(handle.name, async () => {
    const stream = await handle.createWritable();
    try {
      await stream.write(content);
    } catch (error) {
      await unlessBrowserTrouble(() => stream.abort());
      throw error;
    }
    await stream.close();
  });
}

/**
 * Lets the person choose where to save and writes it; null: cancelled. A browser without pickers
 * downloads the file, and nobody learns whether the person kept it.
 */
export async function saveNew(
  window: Window,
  suggestedName: string,
  kind: SavedKind,
  content: Content,
): Promise<{ name: string; handle: FileSystemFileHandle | null } | null> {
  const { type, extensions } = toSave[kind];
  const offered = pickers(window);
  const name = fileName(suggestedName);
  if (!offered) {
    download(window, name, type, content);
    return { name, handle: null };
  }
  const types = [{ accept: { [type]: extensions } }];
  const handle = await unlessCancelled(() =>
    offered.showSaveFilePicker({ suggestedName: name, types }),
  );
  if (!handle) return null;
  await writeHandle(handle, content);
  return { name: handle.name, handle };
}

export function downloadPlan(window: Window, ref: FileRef, text: string): void {
  download(window, ref.name, toSave.plan.type, text);
}

function download(window: Window, name: string, type: string, content: Content): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = window.document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has its own hold on the data once it has begun.
  window.setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

function pickByInput(document: Document, extensions: string[]): Promise<File | null> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = extensions.join(',');
    input.addEventListener('change', () => resolve(input.files?.[0] ?? null));
    input.addEventListener('cancel', () => resolve(null));
    input.click();
  });
}

export async function askFor(
  handle: HandleWithPermission,
  mode: 'read' | 'readwrite',
): Promise<void> {
  const state = (await handle.requestPermission?.({ mode })) ?? 'granted';
  if (state !== 'granted') {
    const act = mode === 'read' ? 'reading' : 'writing';
    throw new Refusal(`${handle.name}: ${act} was not allowed; allow it when the browser asks`);
  }
}

async function unlessCancelled<T>(pick: () => Promise<T>): Promise<T | null> {
  return orTrouble('the file', async () => {
    try {
      return await pick();
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return null;
      throw error;
    }
  });
}

/** Plans are UTF-8; tables and lamp files may also be UTF-16 or Windows-1252. */
async function read(file: File, kind: TextKind): Promise<ReadFile> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const seen = await digestOf(bytes);
  if (kind === 'records' && isWorkbook(bytes))
    return { text: oneSignAByte(bytes), seen, bytes: true };
  const text = utf8(bytes) ?? (kind === 'plan' ? null : decodeOther(bytes));
  if (text === null) throw new Refusal(`${file.name}: is not text in UTF-8`);
  return { text, seen };
}

function utf8(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    // The platform tells of bytes that are no UTF-8 so.
    if (!(error instanceof TypeError)) throw error;
    return null;
  }
}

/** SHA-256 of a content as it stands in a file, in hexadecimal; text in UTF-8. */
export async function digestOf(content: string | Uint8Array<ArrayBuffer>): Promise<string> {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

import { decodeOther } from '../document/encoding';
import type { ExportKind, FileRef, TextKind } from './host';

/** The parts of the File System Access interface that the app uses; only some browsers have it. */
interface FilePickers {
  showOpenFilePicker(options: object): Promise<FileSystemFileHandle[]>;
  showSaveFilePicker(options: object): Promise<FileSystemFileHandle>;
}

interface HandleWithPermission extends FileSystemFileHandle {
  requestPermission?(options: { mode: 'read' | 'readwrite' }): Promise<PermissionState>;
}

export type SavedKind = ExportKind | 'plan';

/** Text, which is written in UTF-8, or bytes as they are. */
type Content = string | Uint8Array<ArrayBuffer>;

const toOpen: Record<TextKind, string[]> = {
  plan: ['.evenrack', '.json'],
  table: ['.csv', '.tsv', '.txt'],
  lamp: ['.ies', '.txt'],
};

const toSave: Record<SavedKind, { type: string; extensions: string[] }> = {
  plan: { type: 'application/json', extensions: ['.evenrack', '.json'] },
  csv: { type: 'text/csv', extensions: ['.csv'] },
  svg: { type: 'image/svg+xml', extensions: ['.svg'] },
  html: { type: 'text/html', extensions: ['.html'] },
  json: { type: 'application/json', extensions: ['.json'] },
  text: { type: 'text/plain', extensions: ['.txt'] },
};

function pickers(window: Window): FilePickers | null {
  return 'showOpenFilePicker' in window && 'showSaveFilePicker' in window
    ? (window as unknown as FilePickers)
    : null;
}

export interface PickedFile {
  readonly text: string;
  readonly name: string;
  /** null: this browser can read the file but not write it again. */
  readonly handle: FileSystemFileHandle | null;
}

/** Lets the person choose a file and reads it; null: cancelled. */
export async function pickFile(window: Window, kind: TextKind): Promise<PickedFile | null> {
  const offered = pickers(window);
  if (!offered) {
    const file = await pickByInput(window.document, toOpen[kind]);
    return file && { text: await decoded(file, kind), name: file.name, handle: null };
  }
  const handle = await unlessCancelled(async () => {
    const [first] = await offered.showOpenFilePicker({
      types: [{ accept: { 'text/plain': toOpen[kind] } }],
    });
    return first ?? null;
  });
  return handle && { text: await readHandle(handle, kind), name: handle.name, handle };
}

/** Reads a file again. Throws where the person does not allow it or the file is gone. */
export async function readHandle(handle: FileSystemFileHandle, kind: TextKind): Promise<string> {
  await askFor(handle, 'read');
  return decoded(await handle.getFile(), kind);
}

/**
 * Writes a file again. The browser writes beside and puts the result in place when all of it is
 * there. Throws where the person does not allow it.
 */
export async function writeHandle(handle: FileSystemFileHandle, content: Content): Promise<void> {
  await askFor(handle, 'readwrite');
  const stream = await handle.createWritable();
  try {
    await stream.write(content);
  } catch (error) {
    await stream.abort().catch(() => undefined);
    throw error;
  }
  await stream.close();
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
  if (!offered) {
    download(window, suggestedName, type, content);
    return { name: suggestedName, handle: null };
  }
  const handle = await unlessCancelled(() =>
    offered.showSaveFilePicker({ suggestedName, types: [{ accept: { [type]: extensions } }] }),
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

async function askFor(handle: HandleWithPermission, mode: 'read' | 'readwrite'): Promise<void> {
  const state = (await handle.requestPermission?.({ mode })) ?? 'granted';
  if (state !== 'granted') {
    const act = mode === 'read' ? 'reading' : 'writing';
    throw new Error(`${handle.name}: ${act} was not allowed; allow it when the browser asks`);
  }
}

async function unlessCancelled<T>(pick: () => Promise<T>): Promise<T | null> {
  try {
    return await pick();
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return null;
    throw error;
  }
}

/** Plans are UTF-8; tables and lamp files may also be UTF-16 or Windows-1252. */
async function decoded(file: File, kind: TextKind): Promise<string> {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    if (kind !== 'plan') return decodeOther(new Uint8Array(bytes));
    throw new Error(`${file.name}: is not text in UTF-8`);
  }
}

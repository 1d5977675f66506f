/** What the surroundings offer: the desktop shell or a browser. The only way out of the renderer. */

import type {
  About,
  Attachment,
  FileNow,
  FileRef,
  KeptCopy,
  MenuAction,
  RecoveryCopy,
  Saved,
} from '../../shared-types/window/ipc';

/**
 * A place a plan was read from or written to, opaque to the renderer: `key` is a path on the desktop
 * and a handle's key in the browser, `seen` the fingerprint of what was read or written there last.
 */
export type { About, Attachment, FileNow, FileRef, KeptCopy, RecoveryCopy, Saved };

export interface OpenedText {
  readonly text: string;
  /** `text` holds one byte a sign: the file is a workbook. */
  readonly bytes?: true | undefined;
  readonly ref: FileRef;
}

export interface RecentPlan {
  readonly ref: FileRef;
  /** ISO 8601. */
  readonly openedAt: string;
}

/** `records`: a table or a workbook. */
export type TextKind = 'plan' | 'table' | 'records' | 'lamp';
export type ExportKind = 'csv' | 'svg' | 'png' | 'html' | 'json' | 'text' | 'zip';

export interface Host {
  readonly kind: 'desktop' | 'browser';
  /** null: the person cancelled. */
  open(kind: TextKind): Promise<OpenedText | null>;
  openRecent(ref: FileRef): Promise<OpenedText>;
  recentPlans(): Promise<RecentPlan[]>;
  /**
   * Writes a plan where its file is as `ref.seen` tells, and forgets the recovery copy `copy` in the
   * same step. Where somebody else has changed the file, nothing is written and what is there now
   * comes back: to overwrite it knowingly, save again with its fingerprint.
   */
  save(ref: FileRef, text: string, copy: string): Promise<Saved>;
  /** null: the person cancelled. */
  saveAs(suggestedName: string, text: string, copy: string): Promise<FileRef | null>;
  /**
   * Writes a file that is not the plan (a table, a figure): text in UTF-8, or bytes as they are.
   * False: cancelled.
   */
  exportText(
    suggestedName: string,
    kind: ExportKind,
    content: string | Uint8Array<ArrayBuffer>,
  ): Promise<boolean>;
  /** Opens the system's print dialogue on a whole HTML document. */
  print(html: string): Promise<void>;
  /**
   * Prints a whole HTML document to a PDF that carries the files. `unavailable`: this host can only
   * print, and the print dialogue offers PDF.
   */
  savePdf(
    suggestedName: string,
    html: string,
    attachments?: readonly Attachment[],
  ): Promise<'saved' | 'cancelled' | 'unavailable'>;
  /**
   * Keeps a copy of unsaved work beside the plan, not in it. `copy` is a UUID that names one plan in
   * one session.
   */
  keepForRecovery(copy: string, text: string, ref: FileRef | null): Promise<void>;
  /** The copies of sessions that have gone, readable or not; each stays until it is forgotten. */
  recoveries(): Promise<readonly RecoveryCopy[]>;
  forgetRecovery(copy: string): Promise<void>;
  /** This window has this file open from now on and no other. False: another window has it too. */
  holdFile(ref: FileRef | null): Promise<boolean>;
  /** While true, closing the window asks first. */
  setUnsaved(unsaved: boolean): void;
  /**
   * The system asks to open a plan (double click, drop on the icon, second start). `onFailure` gets
   * a sentence where that file cannot be read. A plan asked for before anyone listened is kept and
   * given to the first listener.
   */
  onOpenRequest(
    listener: (opened: OpenedText) => void,
    onFailure?: (message: string) => void,
  ): () => void;
  /** The system menu asks for an action by name. */
  onMenu(listener: (action: MenuAction) => void): () => void;
  /** The window may be about to go, or the computer to sleep: `keep` keeps what is unsaved at once. */
  onKeepNow(keep: () => Promise<void>): () => void;
  /** Writes down what went wrong, on this computer alone. */
  noteError(details: string): void;
  /** Where this computer keeps what, and what went wrong so far. */
  about(): Promise<About>;
}

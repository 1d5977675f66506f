/** What the surroundings offer: the desktop shell or a browser. The only way out of the renderer. */

import type { MenuAction } from '../../shared-types/ipc';

/** A place a plan was read from or written to. Opaque to the renderer. */
export interface FileRef {
  /** Path on the desktop, a handle's key in the browser. */
  readonly key: string;
  readonly name: string;
}

export interface OpenedText {
  readonly text: string;
  readonly ref: FileRef;
}

export interface RecentPlan {
  readonly ref: FileRef;
  /** ISO 8601. */
  readonly openedAt: string;
}

export interface RecoveredPlan {
  readonly text: string;
  /** The file it was being saved to; null for a plan never saved. */
  readonly ref: FileRef | null;
  /** ISO 8601. */
  readonly writtenAt: string;
}

export type TextKind = 'plan' | 'table' | 'lamp';
export type ExportKind = 'csv' | 'svg' | 'html' | 'json' | 'text';

export interface Host {
  readonly kind: 'desktop' | 'browser';
  /** null: the person cancelled. */
  open(kind: TextKind): Promise<OpenedText | null>;
  openRecent(ref: FileRef): Promise<OpenedText>;
  recentPlans(): Promise<RecentPlan[]>;
  save(ref: FileRef, text: string): Promise<FileRef>;
  saveAs(suggestedName: string, text: string): Promise<FileRef | null>;
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
  /** `unavailable`: this host can only print, and the print dialogue offers PDF. */
  savePdf(suggestedName: string, html: string): Promise<'saved' | 'cancelled' | 'unavailable'>;
  /** Kept beside the plan, not in it, until the plan is saved or closed knowingly. */
  keepForRecovery(text: string, ref: FileRef | null): Promise<void>;
  recover(): Promise<RecoveredPlan | null>;
  forgetRecovery(): Promise<void>;
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
}

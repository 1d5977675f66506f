import { z } from 'zod';
import { helpEntries } from './help';
import type { Channel, EventName } from './ipcNames';

/**
 * Every message between the window and the desktop shell. The shell checks requests against these
 * schemas, and the bridge's type is inferred from them; it is written nowhere else.
 */

/** No file that the app opens comes near this; it bounds what one message can hold. */
const longText = z.string().max(200_000_000);
const pathText = z.string().min(1).max(32_000);
const suggestedName = z.string().min(1).max(260);
const instant = z.iso.datetime({ offset: true });

/** SHA-256 of a file's bytes, in hexadecimal. */
const fingerprint = z.string().regex(/^[0-9a-f]{64}$/);
const fileRef = z.strictObject({
  key: pathText,
  name: z.string().min(1).max(1000),
  /** What the window read from the file or wrote to it last; null: not known. */
  seen: fingerprint.nullable(),
});
const openedText = z.strictObject({
  text: longText,
  ref: fileRef,
  /** `text` holds one byte a sign: the file is a workbook. */
  bytes: z.literal(true).optional(),
});
/** What a file holds now. `text` is null where that is no text. */
const fileNow = z.strictObject({ ref: fileRef, text: longText.nullable(), changedAt: instant });

/** Names the recovery copy of one plan in one session. */
const copyId = z.uuid();

/** A recovery copy as it stands on the disk. Those of earlier versions know no fingerprint. */
export const keptCopy = z.strictObject({
  text: longText,
  ref: fileRef.extend({ seen: fingerprint.nullable().default(null) }).nullable(),
  writtenAt: instant,
  /** What its plan was last being saved as: the file may hold that already. */
  saving: fingerprint.optional(),
});

export const textKind = z.enum(['plan', 'table', 'records', 'lamp']);
export const exportKind = z.enum(['csv', 'svg', 'png', 'html', 'json', 'text', 'zip']);
/** A file that a PDF carries. */
const attachment = z.strictObject({
  name: suggestedName,
  /** Media type. */
  type: z.string().regex(/^[a-z]+\/[a-z0-9.+-]+$/),
  text: longText,
  /** What is in it, for the reader's list of attachments. */
  about: z.string().max(500),
});
export const menuAction = z.enum([
  ...(['new', 'open', 'save', 'save-as', 'export-all', 'undo', 'redo', 'runs'] as const),
  ...helpEntries,
]);

/** Requests from the window, by channel. */
export const ipcChannels = {
  open: { request: z.strictObject({ kind: textKind }), response: openedText.nullable() },
  openRecent: { request: z.strictObject({ ref: fileRef }), response: openedText },
  recentPlans: {
    request: z.strictObject({}),
    response: z.array(z.strictObject({ ref: fileRef, openedAt: instant })),
  },
  /**
   * Writes a plan where nobody else has changed its file since it was seen, and forgets its copy in
   * the same step; otherwise gives what is there now and changes nothing.
   */
  save: {
    request: z.strictObject({ ref: fileRef, text: longText, copy: copyId }),
    response: z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('saved'), ref: fileRef }),
      z.strictObject({ kind: z.literal('changed'), theirs: fileNow }),
    ]),
  },
  saveAs: {
    request: z.strictObject({ suggestedName, text: longText, copy: copyId }),
    response: fileRef.nullable(),
  },
  exportText: {
    request: z
      .strictObject({
        suggestedName,
        kind: exportKind,
        text: longText,
        /** `text` holds one byte a sign: the file is made of these bytes. */
        bytes: z.literal(true).optional(),
      })
      .refine(({ text, bytes }) => !bytes || !/[\u0100-\uFFFF]/.test(text), {
        path: ['text'],
        message: 'found a sign that is no byte; one byte a sign is expected',
      }),
    response: z.boolean(),
  },
  print: { request: z.strictObject({ html: longText }), response: z.null() },
  savePdf: {
    request: z.strictObject({
      suggestedName,
      html: longText,
      attachments: z.array(attachment).max(20).optional(),
    }),
    response: z.enum(['saved', 'cancelled']),
  },
  keepForRecovery: {
    request: z.strictObject({ copy: copyId, text: longText, ref: fileRef.nullable() }),
    response: z.null(),
  },
  /** Copies of sessions that have gone. */
  recoveries: {
    request: z.strictObject({}),
    response: z.array(
      z.strictObject({
        copy: copyId,
        place: pathText,
        /** null: the copy cannot be read. */
        kept: keptCopy.nullable(),
        /** What the plan's file holds now; null: it has none, or none that can be read. */
        file: fileNow.nullable(),
      }),
    ),
  },
  forgetRecovery: { request: z.strictObject({ copy: copyId }), response: z.null() },
  /** The window has this file open and no other any more. False: another window has it too. */
  holdFile: { request: z.strictObject({ ref: fileRef.nullable() }), response: z.boolean() },
  setUnsaved: { request: z.strictObject({ unsaved: z.boolean() }), response: z.null() },
  /** The window listens for open requests now; those that came earlier are sent. */
  listening: { request: z.strictObject({}), response: z.null() },
  /** The answer to `keepNow`: what is unsaved has been kept. */
  workKept: { request: z.strictObject({}), response: z.null() },
  about: {
    request: z.strictObject({}),
    response: z.strictObject({ dataPlace: z.string(), logPlace: z.string(), log: z.string() }),
  },
  /** Something went wrong in the window; written to the log on this computer. */
  noteError: { request: z.strictObject({ details: z.string().max(100_000) }), response: z.null() },
} as const satisfies Record<Channel, { request: z.ZodType; response: z.ZodType }>;

/** Messages to the window that it did not ask for. */
export const ipcEvents = {
  openRequest: openedText,
  /** A file that the system asked for could not be opened: why, in a sentence. */
  openFailed: z.string(),
  menu: menuAction,
  /** The window may be about to go: what is unsaved is to be kept at once. */
  keepNow: z.null(),
} as const satisfies Record<EventName, z.ZodType>;

export type Request<C extends Channel> = z.infer<(typeof ipcChannels)[C]['request']>;
export type Response<C extends Channel> = z.infer<(typeof ipcChannels)[C]['response']>;
export type EventPayload<E extends EventName> = z.infer<(typeof ipcEvents)[E]>;
export type Attachment = Readonly<z.infer<typeof attachment>>;
export type FileRef = Readonly<z.infer<typeof fileRef>>;
export type FileNow = Readonly<z.infer<typeof fileNow>>;
export type KeptCopy = Readonly<z.infer<typeof keptCopy>>;
export type RecoveryCopy = Readonly<Response<'recoveries'>[number]>;
export type Saved = Response<'save'>;
export type About = Readonly<Response<'about'>>;
export type MenuAction = z.infer<typeof menuAction>;

/** What the preload puts into the window as `evenrackBridge`. */
export type Bridge = {
  readonly [C in Channel]: (request: Request<C>) => Promise<ShellAnswer<Response<C>>>;
} & {
  on<E extends EventName>(event: E, listener: (payload: EventPayload<E>) => void): () => void;
};

/**
 * How an answer travels: what a person can mend as its sentence, since an error loses its class on
 * the way and the transport adds to its words. Any other error is a mistake, and goes as it is.
 */
export type ShellAnswer<Value = unknown> =
  | { ok: true; value: Value }
  | { ok: false; message: string };

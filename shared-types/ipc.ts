import { z } from 'zod';
import type { Channel, EventName } from './ipc-names';

/**
 * Every message between the window and the desktop shell. The shell checks requests against these
 * schemas, and the bridge's type is inferred from them; it is written nowhere else.
 */

/** No file that the app opens comes near this; it bounds what one message can hold. */
const longText = z.string().max(200_000_000);
const pathText = z.string().min(1).max(32_000);
const suggestedName = z.string().min(1).max(260);
const instant = z.iso.datetime({ offset: true });

const fileRef = z.strictObject({ key: pathText, name: z.string().min(1).max(1000) });
const openedText = z.strictObject({ text: longText, ref: fileRef });

export const textKind = z.enum(['plan', 'table', 'lamp']);
export const exportKind = z.enum(['csv', 'svg', 'html', 'json', 'text']);
export const menuAction = z.enum(['new', 'open', 'save', 'save-as', 'undo', 'redo']);

/** Requests from the window, by channel. */
export const ipcChannels = {
  open: { request: z.strictObject({ kind: textKind }), response: openedText.nullable() },
  openRecent: { request: z.strictObject({ ref: fileRef }), response: openedText },
  recentPlans: {
    request: z.strictObject({}),
    response: z.array(z.strictObject({ ref: fileRef, openedAt: instant })),
  },
  save: { request: z.strictObject({ ref: fileRef, text: longText }), response: fileRef },
  saveAs: {
    request: z.strictObject({ suggestedName, text: longText }),
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
    request: z.strictObject({ suggestedName, html: longText }),
    response: z.enum(['saved', 'cancelled']),
  },
  keepForRecovery: {
    request: z.strictObject({ text: longText, ref: fileRef.nullable() }),
    response: z.null(),
  },
  recover: {
    request: z.strictObject({}),
    response: z
      .strictObject({ text: longText, ref: fileRef.nullable(), writtenAt: instant })
      .nullable(),
  },
  forgetRecovery: { request: z.strictObject({}), response: z.null() },
  setUnsaved: { request: z.strictObject({ unsaved: z.boolean() }), response: z.null() },
  /** The window listens for open requests now; those that came earlier are sent. */
  listening: { request: z.strictObject({}), response: z.null() },
} as const satisfies Record<Channel, { request: z.ZodType; response: z.ZodType }>;

/** Messages to the window that it did not ask for. */
export const ipcEvents = {
  openRequest: openedText,
  /** A file that the system asked for could not be opened: why, in a sentence. */
  openFailed: z.string(),
  menu: menuAction,
} as const satisfies Record<EventName, z.ZodType>;

export type Request<C extends Channel> = z.infer<(typeof ipcChannels)[C]['request']>;
export type Response<C extends Channel> = z.infer<(typeof ipcChannels)[C]['response']>;
export type EventPayload<E extends EventName> = z.infer<(typeof ipcEvents)[E]>;
export type MenuAction = z.infer<typeof menuAction>;

/** What the preload puts into the window as `evenrackBridge`. */
export type Bridge = {
  readonly [C in Channel]: (request: Request<C>) => Promise<Response<C>>;
} & {
  on<E extends EventName>(event: E, listener: (payload: EventPayload<E>) => void): () => void;
};

/** How an answer travels: an error as its sentence, so that the transport adds nothing to it. */
export type Answer = { ok: true; value: unknown } | { ok: false; message: string };

import type { IpcMain, WebContents } from 'electron';
import { ipcChannels } from '../../../shared-types/window/ipc';
import type { ShellAnswer, Request, Response } from '../../../shared-types/window/ipc';
import { channelNames } from '../../../shared-types/window/ipcNames';
import type { Channel } from '../../../shared-types/window/ipcNames';
import { isFileTrouble, troubleInWords } from '../files/fileTrouble';

/** One function a channel. */
export type Handlers = {
  readonly [C in Channel]: (request: Request<C>) => Promise<Response<C>>;
};

/**
 * Answers one message: the request is checked by its schema, then handled. A file or a disk at
 * fault becomes a sentence, any other error is thrown on; a request that breaks the contract never reaches a handler.
 */
export async function answer(
  handlers: Handlers,
  channel: Channel,
  request: unknown,
): Promise<ShellAnswer> {
  const { request: requestSchema, response: responseSchema } = ipcChannels[channel];
  const read = requestSchema.safeParse(request);
  if (!read.success) {
    const issue = read.error.issues[0];
    const where = [channel, ...(issue?.path.map(String) ?? [])].join('.');
    return { ok: false, message: `${where}: ${issue?.message ?? 'not as agreed'}` };
  }
  try {
    // TypeScript can't see that channel, handler and data belong together.
    const handle = handlers[channel] as (data: unknown) => Promise<unknown>;
    return { ok: true, value: responseSchema.parse(await handle(read.data)) };
  } catch (error) {
    if (!isFileTrouble(error)) throw error;
    return { ok: false, message: troubleInWords(error) };
  }
}

/** What a window says last, as it closes or loads anew: it keeps work and gives nothing away. */
const lastWords: readonly Channel[] = ['keepForRecovery', 'setUnsaved', 'workKept', 'noteError'];

/**
 * Listens on every channel. A message counts only if it comes from the main frame of a page whose
 * address and origin `isOurs` accepts: in a sandbox, or as a blob, an address does not tell who is in
 * command. The frame may have gone by the time its message is here: last words of
 * our own window count all the same, for none but its main frame has the bridge, and it shows no
 * pages but ours.
 */
export function listenForRequests(
  ipcMain: Pick<IpcMain, 'handle'>,
  handlers: Handlers,
  isOurs: (url: string) => boolean,
  isOurWindow: (sender: WebContents) => boolean,
): void {
  for (const channel of channelNames) {
    ipcMain.handle(channel, async (event, request: unknown): Promise<ShellAnswer> => {
      const frame = event.senderFrame;
      // Of one that has gone nothing may be asked but this.
      const counts =
        frame && !frame.isDestroyed()
          ? frame.parent === null && isOurs(frame.url) && isOurs(frame.origin)
          : lastWords.includes(channel) && isOurWindow(event.sender);
      if (!counts) {
        return { ok: false, message: `${channel}: refused, this page is not part of Evenrack` };
      }
      return answer(handlers, channel, request);
    });
  }
}

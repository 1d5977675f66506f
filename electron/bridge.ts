import type { ShellAnswer, Bridge, EventPayload } from '../shared-types/window/ipc';
import { channelNames, eventNames } from '../shared-types/window/ipcNames';
import type { Channel, EventName } from '../shared-types/window/ipcNames';

export type Invoke = (channel: Channel, request: unknown) => Promise<ShellAnswer>;
export type Listen = (event: EventName, listener: (payload: unknown) => void) => () => void;

/**
 * The bridge over any transport. It offers the listed channels and nothing else, so that a page
 * can't reach further than `shared-types/ipc.ts` says.
 */
export function createBridge(invoke: Invoke, listen: Listen): Bridge {
  const call = (channel: Channel) => (request: unknown) => invoke(channel, request);
  const calls = Object.fromEntries(channelNames.map((channel) => [channel, call(channel)]));
  const on = <E extends EventName>(
    event: E,
    listener: (payload: EventPayload<E>) => void,
  ): (() => void) => {
    if (!eventNames.includes(event)) throw new Error(`no event is named ${String(event)}`);
    return listen(event, (payload) => listener(payload as EventPayload<E>));
  };
  // The shell has checked every value against the schema from which these types are inferred.
  return { ...calls, on } as unknown as Bridge;
}

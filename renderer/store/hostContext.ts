import { createContext, useContext } from 'react';
import type { Host } from '../host/host';

export const HostContext = createContext<Host | null>(null);

/** What the surroundings offer, injected by the app. */
export function useHostOffer(): Host {
  const host = useContext(HostContext);
  if (!host) throw new Error('useHostOffer: found no HostContext around it; one is expected');
  return host;
}

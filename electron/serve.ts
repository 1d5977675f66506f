import { serveHere, type Served } from './loopback';
import { asset } from './services/assets';

/** Serves the built renderer to this machine alone, with the same policy as the desktop window. */
export function serveRenderer(folder: string, port = 0): Promise<Served> {
  return serveHere((pathname) => asset(folder, pathname), port);
}

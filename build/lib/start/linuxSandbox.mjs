// Whether Chromium can make its sandbox on this Linux. Where it cannot, Electron aborts before it
// has said anything in a window: it needs either user namespaces for everyone, or its helper
// `chrome-sandbox` as root's with the set-user-ID bit.
import { readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** Switches of the kernel that forbid user namespaces, with the value at which they do. */
const forbidding = [
  ['/proc/sys/kernel/unprivileged_userns_clone', '0'],
  ['/proc/sys/user/max_user_namespaces', '0'],
  ['/proc/sys/kernel/apparmor_restrict_unprivileged_userns', '1'],
];

/**
 * Why the runtime cannot start here, and the command that mends it; null where nothing is known to
 * be in its way.
 * @param {string} electron
 * @param {{ platform: string, isRoot: boolean, read(file: string): string | null,
 *   isSetRoot(file: string): boolean }} [system]
 */
export function sandboxTrouble(electron, system = thisSystem) {
  if (system.platform !== 'linux' || system.isRoot) return null;
  const switched = forbidding.find(([file, value]) => system.read(file) === value);
  const helper = join(dirname(electron), 'chrome-sandbox');
  if (!switched || system.isSetRoot(helper)) return null;
  return {
    why: `this Linux forbids user namespaces (${switched[0]} is ${switched[1]}), which the sandbox of Electron needs`,
    remedy: sandboxRemedy(electron),
  };
}

/** The command that lets the helper make the sandbox. */
export function sandboxRemedy(electron) {
  const helper = join(dirname(electron), 'chrome-sandbox');
  return `sudo chown root "${helper}" && sudo chmod 4755 "${helper}"`;
}

const thisSystem = {
  platform: process.platform,
  isRoot: process.getuid?.() === 0,
  read(file) {
    try {
      return readFileSync(file, 'utf8').trim();
    } catch {
      // This kernel has no such switch.
      return null;
    }
  },
  isSetRoot(file) {
    const found = statSync(file, { throwIfNoEntry: false });
    return found !== undefined && found.uid === 0 && (found.mode & 0o4000) !== 0;
  },
};

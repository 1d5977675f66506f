// The first import of every script of npm: says in a sentence what is missing, where a trace would
// tell nobody. It needs no package, and is read by any Node that knows modules; what needs more is
// imported only after it.
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** What keeps the scripts from running, as a sentence; null: nothing. */
export function whatIsMissing({ version, folder = root, env = process.env }) {
  const { engines } = JSON.parse(readFileSync(`${folder}package.json`, 'utf8'));
  const needed = engines.node.replace('>=', '');
  if (isOlder(version, needed)) {
    return `Evenrack needs Node ${needed} or later, and this is ${version}: install a newer one from nodejs.org.`;
  }
  const modules = `${folder}node_modules/`;
  // npm writes its own list of them last of all.
  const whole = ['.package-lock.json', 'vite/package.json', 'esbuild/package.json'];
  if (whole.every((name) => existsSync(modules + name))) return null;
  // Either makes npm leave out what builds the app, which is all that there is.
  const leavesOut = env.NODE_ENV === 'production' || env.npm_config_omit === 'dev';
  return `The packages that Evenrack is built with are not here: run npm ci${leavesOut ? ' --include=dev' : ''} first.`;
}

function isOlder(version, needed) {
  const [a, b] = [version.replace('v', ''), needed].map((text) => text.split('.').map(Number));
  for (const [i, part] of b.entries()) if (a[i] !== part) return a[i] < part;
  return false;
}

/** Whether the folder is there in which this runs; another program may have removed it. */
function standsSomewhere() {
  try {
    process.cwd();
    return true;
  } catch {
    return false;
  }
}

const missing = !standsSomewhere()
  ? 'The folder that you stand in is there no more: go to another one, and try again.'
  : whatIsMissing({ version: process.version });
if (missing !== null) {
  console.error(missing);
  process.exit(1);
}

// Whose work the app carries along: every package that the sources import, with all that these
// depend on by the lock, and their licences as they came.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './run.mjs';

const rooms = ['renderer', 'electron', 'shared-types'];
const imports = /(?:from|import)\s*\(?\s*'((?:@[a-z0-9-]+\/)?[a-z0-9-][a-z0-9.-]*)(?:\/[^']*)?'/g;
const isLicence = /^(licen[cs]e|copying|notice|ofl)/i;

/**
 * @typedef {{ name: string, version: string, licence: string, text: string }} ThirdParty
 * @returns {ThirdParty[]} by name
 */
export function thirdParties() {
  const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'));
  const found = new Map();
  const waiting = [...imported()].map((name) => placeOf(packages, '', name));
  for (let place = waiting.pop(); place !== undefined; place = waiting.pop()) {
    if (place === null || found.has(place)) continue;
    const { dependencies = {}, peerDependencies = {}, version } = packages[place];
    found.set(place, carried(place, version));
    for (const name of Object.keys({ ...dependencies, ...peerDependencies })) {
      // Types leave nothing in what is built.
      if (!name.startsWith('@types/')) waiting.push(placeOf(packages, place, name));
    }
  }
  return [...found.values()].sort((a, b) =>
    `${a.name} ${a.version}` < `${b.name} ${b.version}` ? -1 : 1,
  );
}

/** All of it as one text, for who looks into the folder of the packaged app. */
export function thirdPartyText(parties = thirdParties()) {
  const rule = '-'.repeat(80);
  const head = 'Evenrack carries along the work of others, under these licences.';
  return [
    head,
    ...parties.map(({ name, version, licence, text }) =>
      [rule, `${name} ${version} (${licence})`, '', text].join('\n'),
    ),
  ].join('\n\n');
}

/** The packages that the sources of the app name; Electron is no part of what is built. */
function imported() {
  const names = new Set();
  for (const room of rooms) {
    for (const file of readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })) {
      if (!/\.(ts|tsx)$/.test(file)) continue;
      const text = readFileSync(join(root, room, file), 'utf8');
      for (const [, name] of text.matchAll(imports)) names.add(name);
    }
  }
  names.delete('electron');
  return names;
}

/** Where the lock puts a package that the one at `from` asks for; null: it is none of the lock's. */
function placeOf(packages, from, name) {
  for (let at = from; ; at = at.slice(0, Math.max(0, at.lastIndexOf('node_modules/') - 1))) {
    const place = at === '' ? `node_modules/${name}` : `${at}/node_modules/${name}`;
    if (packages[place]) return place;
    if (at === '') return null;
  }
}

function carried(place, version) {
  const folder = join(root, place);
  const read = (file) => readFileSync(join(folder, file), 'utf8').replace(/\r\n/g, '\n').trim();
  const { name, license, licenses } = JSON.parse(read('package.json'));
  const names = readdirSync(folder).sort();
  const files = names.filter((file) => isLicence.test(file));
  const readme = names.filter((file) => /^readme/i.test(file)).map(read);
  const text = files.length > 0 ? files.map(read).join('\n\n') : readme.map(licencePart).join('');
  return { name, version, licence: license ?? licenses?.[0]?.type, text };
}

/** Some packages state their licence at the end of what they say of themselves. */
const licencePart = (readme) => /^[^\n]*licen[cs]e[^\n]*\n[-=]+\n.*/ims.exec(readme)?.[0] ?? '';

import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { NtExecutable, NtExecutableResource, Resource } from 'resedit';

// Electron's runtime as far as packaging touches it: the names of its files, and the wire of fuses
// in its program. It does not run.

export type System = 'linux' | 'win' | 'mac';

/** `@electron/fuses` finds the wire by this; after it come version, length and a sign a fuse: all as delivered. */
const wire = Buffer.concat([
  Buffer.from('dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX', 'latin1'),
  Buffer.from([1, 9]),
  Buffer.from('101100011', 'latin1'),
]);

/** Writes it into a folder; gives the folder. */
export async function stubRuntime(folder: string, system: System): Promise<string> {
  for (const [name, content] of await filesOf(system)) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), content, { mode: 0o755 });
  }
  return folder;
}

async function filesOf(system: System): Promise<[string, string | Uint8Array][]> {
  const common: [string, string][] = [
    ['LICENSE', 'of Electron'],
    ['LICENSES.chromium.html', 'of Chromium'],
    ['version', '0.0.0'],
  ];
  switch (system) {
    case 'linux':
      return [...common, ['electron', wire], ['chrome-sandbox', '']];
    case 'win':
      return [...common, ['electron.exe', windowsProgram()]];
    case 'mac':
      return [...common, ...macFiles()];
  }
}

/** A Windows program without code, with the version that packaging rewrites, and the wire at its end. */
function windowsProgram(): Uint8Array {
  const program = NtExecutable.createEmpty(false, false);
  const resources = NtExecutableResource.from(program);
  const version = Resource.VersionInfo.createEmpty();
  version.setFileVersion(1, 0, 0, 0, 1033);
  version.setStringValues({ lang: 1033, codepage: 1200 }, { ProductName: 'Electron' });
  version.outputToResourceEntries(resources.entries);
  resources.entries.push({
    type: 'WIRE',
    id: 1,
    lang: 1033,
    codepage: 1200,
    bin: wire.buffer.slice(wire.byteOffset, wire.byteOffset + wire.length) as ArrayBuffer,
  });
  resources.outputResource(program);
  return new Uint8Array(program.generate());
}

function macFiles(): [string, string | Uint8Array][] {
  const app = 'Electron.app/Contents';
  const framework = `${app}/Frameworks/Electron Framework.framework`;
  const helpers = ['', ' (Renderer)', ' (GPU)', ' (Plugin)'].map(
    (kind) => `Electron Helper${kind}`,
  );
  return [
    [`${app}/Info.plist`, plist('Electron')],
    [`${app}/MacOS/Electron`, ''],
    [`${app}/Resources/electron.icns`, ''],
    [`${framework}/Electron Framework`, wire],
    ...helpers.flatMap((name): [string, string][] => [
      [`${app}/Frameworks/${name}.app/Contents/Info.plist`, plist(name)],
      [`${app}/Frameworks/${name}.app/Contents/MacOS/${name}`, ''],
    ]),
  ];
}

const plist = (name: string): string =>
  `<?xml version="1.0" encoding="UTF-8"?><plist version="1.0"><dict><key>CFBundleExecutable</key><string>${name}</string><key>CFBundleIdentifier</key><string>x.${name.length}</string></dict></plist>`;

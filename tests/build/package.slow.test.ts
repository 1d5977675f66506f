import { cp, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { inflateSync } from 'node:zlib';
import { getRawHeader, listPackage } from '@electron/asar';
import { FuseV1Options, getCurrentFuseWire } from '@electron/fuses';
import type { AfterPackContext, LinuxPackager } from 'app-builder-lib';
import { LinuxTargetHelper } from 'app-builder-lib/out/targets/LinuxTargetHelper.js';
import { Arch, build, Platform } from 'electron-builder';
import { NtExecutable, NtExecutableResource } from 'resedit';
import { describe, expect, it } from 'vitest';
import { markPng, markSvg } from '../../build/lib/package/mark.mjs';
import { writeIcns, writeIco } from '../../build/lib/package/png.mjs';
import { writeResources } from '../../build/lib/package/resources.mjs';
import { tempFolder } from '../electron/tempFolder';
import { stubRuntime, type System } from './support/stubRuntime';

const top = resolve(import.meta.dirname, '../..');

/** A project like ours with next to nothing in it, packaged by our configuration around a stub. */
async function packaged(
  system: System,
  afterPack: (context: AfterPackContext) => Promise<void> = () => Promise.resolve(),
): Promise<{ folder: string; files: string[] }> {
  const project = await tempFolder();
  await mkdir(join(project, 'build'));
  for (const name of ['electron-builder.yml', 'entitlements.mac.plist', 'lib/package']) {
    await cp(join(top, 'build', name), join(project, 'build', name), { recursive: true });
  }
  const { name, version, description, author, license, main } = JSON.parse(
    await readFile(join(top, 'package.json'), 'utf8'),
  ) as Record<string, string>;
  const own = { name, version, description, author, license, main, type: 'module' };
  await writeFile(join(project, 'package.json'), JSON.stringify(own));
  await mkdir(join(project, 'out', 'electron'), { recursive: true });
  await mkdir(join(project, 'out', 'renderer'));
  await writeFile(join(project, 'out', 'electron', 'main.js'), 'export {};');
  await writeFile(join(project, 'out', 'electron', 'preload.cjs'), '');
  await writeFile(join(project, 'out', 'electron', 'serve.js'), '');
  await writeFile(join(project, 'out', 'renderer', 'index.html'), '<p>');
  writeResources(join(project, 'out', 'package'), [16, 32, 256]);
  const electronDist = await stubRuntime(join(project, 'runtime'), system);
  const platform = { linux: Platform.LINUX, win: Platform.WINDOWS, mac: Platform.MAC }[system];
  await build({
    projectDir: project,
    targets: platform.createTarget('dir', Arch.x64),
    publish: 'never',
    config: {
      extends: join(project, 'build', 'electron-builder.yml'),
      afterPack,
      electronDist,
      electronVersion: '45.4.1',
      mac: { identity: null },
    },
  });
  const dist = join(project, 'dist');
  const [folder = ''] = (await readdir(dist)).filter((one) => /unpacked|^mac/.test(one));
  const files = await readdir(join(dist, folder), { recursive: true });
  return { folder: join(dist, folder), files: files.sort() };
}

async function hashOfHeader(asar: string): Promise<string> {
  const { headerString } = getRawHeader(asar);
  return createHash('sha256').update(headerString).digest('hex');
}

/** The fuses that are on, of a program. */
async function fusesOn(program: string): Promise<string[]> {
  const wire = await getCurrentFuseWire(program);
  const on = '1'.charCodeAt(0);
  return Object.entries(FuseV1Options).flatMap(([name, fuse]) =>
    typeof fuse === 'number' && wire[fuse] === on ? [name] : [],
  );
}

const fuses = ['EnableEmbeddedAsarIntegrityValidation', 'OnlyLoadAppFromAsar'];
const licences = ['LICENSE.txt', 'THIRD-PARTY-NOTICES.txt'];

// Around a stub: what is proven is what we ask electron-builder for, and that it does it.
describe('a package', () => {
  it('holds the app and nothing else, with the fuses set and its archive sealed', async () => {
    let entry = '';
    const linux = await packaged('linux', async ({ packager }) => {
      const helper = new LinuxTargetHelper(packager as LinuxPackager);
      entry = await helper.computeDesktopEntry(
        (packager as LinuxPackager).platformSpecificBuildOptions,
      );
    });
    // Desktops open a plan with it, and know its window; `%U` names a file by its address.
    expect(entry.split('\n')).toEqual(
      expect.arrayContaining([
        'Name=Evenrack',
        'Exec=/opt/Evenrack/evenrack %U',
        'MimeType=application/x-evenrack+json;',
        'StartupWMClass=evenrack',
        'Categories=Science;',
      ]),
    );
    expect(linux.files).toEqual(
      ['LICENSE.electron.txt', 'LICENSES.chromium.html', 'chrome-sandbox', 'evenrack', 'version']
        .concat(['resources', ...['app.asar', ...licences].map((name) => `resources/${name}`)])
        .sort(),
    );
    const asar = join(linux.folder, 'resources', 'app.asar');
    expect(listPackage(asar, { isPack: false }).sort()).toEqual([
      '/out',
      '/out/electron',
      '/out/electron/main.js',
      '/out/electron/preload.cjs',
      '/out/renderer',
      '/out/renderer/index.html',
      '/package.json',
    ]);
    expect(await fusesOn(join(linux.folder, 'evenrack'))).toEqual(fuses);

    const win = await packaged('win');
    expect(win.files).toContain('Evenrack.exe');
    const program = join(win.folder, 'Evenrack.exe');
    expect(await fusesOn(program)).toEqual(fuses);
    const { entries } = NtExecutableResource.from(NtExecutable.from(await readFile(program)));
    const seal = entries.find(({ type }) => type === 'INTEGRITY');
    expect(JSON.parse(Buffer.from(seal?.bin ?? new ArrayBuffer()).toString())).toEqual([
      {
        file: 'resources\\app.asar',
        alg: 'SHA256',
        value: await hashOfHeader(join(win.folder, 'resources', 'app.asar')),
      },
    ]);

    const mac = await packaged('mac');
    const contents = join(mac.folder, 'Evenrack.app', 'Contents');
    expect(mac.files).toEqual(
      expect.arrayContaining(licences.map((name) => `Evenrack.app/Contents/Resources/${name}`)),
    );
    expect(await fusesOn(join(mac.folder, 'Evenrack.app'))).toEqual(fuses);
    const info = await readFile(join(contents, 'Info.plist'), 'utf8');
    expect(info).toContain(await hashOfHeader(join(contents, 'Resources', 'app.asar')));
    expect(info).toMatch(/CFBundleTypeExtensions<\/key>\s*<array>\s*<string>evenrack</);
  });
});

describe('the icons', () => {
  it('are pictures of every size, in the files that each system takes', () => {
    const picture = markPng(32);
    // ISO/IEC 15948: signature, then the header with width and height.
    expect(picture.subarray(0, 8).toString('latin1')).toBe('\x89PNG\r\n\x1a\n');
    expect([picture.readUInt32BE(16), picture.readUInt32BE(20)]).toEqual([32, 32]);
    const pixels = pixelsOf(picture, 32);
    // The corner is clear, the lamp glows, the tile is dark.
    expect(pixels(0, 0)).toEqual([0, 0, 0, 0]);
    expect(pixels(16, 8)).toEqual([246, 217, 120, 255]);
    expect(pixels(16, 12)).toEqual([58, 39, 68, 255]);
    // The browser's window has the same one; `node build/makeNotices.mjs` writes it afresh.
    expect(readFileSync(join(top, 'renderer/app/mark.svg'), 'utf8')).toBe(markSvg());
    const ico = writeIco([
      { size: 256, png: markPng(256) },
      { size: 32, png: picture },
    ]);
    expect([ico.readUInt16LE(2), ico.readUInt16LE(4), ico[6], ico[22]]).toEqual([1, 2, 0, 32]);
    const at = ico.readUInt32LE(34);
    expect(ico.subarray(at).equals(picture)).toBe(true);
    const icns = writeIcns([{ size: 32, png: picture }]);
    expect(icns.subarray(0, 4).toString()).toBe('icns');
    expect(icns.readUInt32BE(4)).toBe(icns.length);
    expect(icns.subarray(8, 12).toString()).toBe('ic11');
  });
});

function pixelsOf(png: Buffer, size: number): (x: number, y: number) => number[] {
  const length = png.readUInt32BE(33);
  const lines = inflateSync(png.subarray(41, 41 + length));
  const line = 4 * size + 1;
  return (x, y) => [...lines.subarray(y * line + 1 + 4 * x, y * line + 5 + 4 * x)];
}

import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { CFB } from '@e965/xlsx';
import { expect, test } from 'vitest';
import { createBridge } from '../../electron/bridge';
import { answer } from '../../electron/services/window/ipc';
import type { Settlement } from '../../renderer/app/files/ConflictDialog';
import { fileActions } from '../../renderer/app/files/files';
import { tellOpenElsewhere } from '../../renderer/app/files/openElsewhere';
import { openDropped } from '../../renderer/app/files/dropped';
import { sortCopies } from '../../renderer/app/files/recoveries';
import { blindTrial, renamePlan } from '../../renderer/document/commands';
import { writeCompact, writePlan } from '../../renderer/document/open';
import { desktopHost } from '../../renderer/host/desktop';
import type { RecoveryCopy } from '../../renderer/host/host';
import { createPlanStore, isUnsaved } from '../../renderer/store/planStore';
import { createSessionStore } from '../../renderer/store/sessionStore';
import { localeOf } from '../../renderer/words';
import { drawnPlan, samplePlan } from '../builders/samplePlan';
import { testShell } from '../electron/testShell';
import { tempFolder } from '../electron/tempFolder';

/** A window over the real handlers on a real folder; the person settles conflicts by a list. */
function windowOn(folder: string) {
  const shell = testShell(folder);
  const bridge = createBridge(
    (channel, request) => answer(shell.handlers, channel, structuredClone(request)),
    () => () => undefined,
  );
  const host = desktopHost(bridge);
  const stores = { plan: createPlanStore(), session: createSessionStore() };
  const settlements: Settlement[] = [];
  const files = fileActions(
    host,
    stores,
    () => Promise.resolve(true),
    () => {
      const next = settlements.shift();
      if (!next) throw new Error('a conflict was told that nobody expected');
      return Promise.resolve(next);
    },
  );
  const state = () => stores.plan.getState();
  const edit = (title: string) => state().dispatch(renamePlan, { title });
  return {
    shell,
    host,
    files,
    settlements,
    state,
    edit,
    store: stores.plan,
    session: stores.session,
  };
}

async function twoWindows() {
  const folder = await tempFolder();
  const path = join(folder, 'trial.evenrack');
  await writeFile(path, writePlan(samplePlan()));
  const [mine, theirs] = [windowOn(folder), windowOn(folder)];
  for (const { shell, files } of [mine, theirs]) {
    shell.answers.push(path);
    expect(await files.open()).toBeNull();
  }
  theirs.edit('Theirs');
  expect(await theirs.files.save()).toBeNull();
  mine.edit('Mine');
  const title = async () => /"title": "([^"]*)"/.exec(await readFile(path, 'utf8'))?.[1];
  return { folder, path, mine, theirs, title };
}

test('a new plan begins with the units of the computer, unless others are chosen', async () => {
  const { files, state, session } = windowOn(await tempFolder());
  const unitsOf = async () => {
    await files.newPlan();
    return state().plan?.display.lengths;
  };
  session.setState({ usualHere: localeOf('en-US') });
  expect(await unitsOf()).toBe('imperial');
  session.getState().setLocaleChoice({ units: 'metric' });
  expect(await unitsOf()).toBe('metric');
});

test('neither: nothing is saved, the work stays open and unsaved', async () => {
  const { mine, title } = await twoWindows();
  mine.settlements.push('neither');
  expect(await mine.files.save()).toBeNull();
  expect(await title()).toBe('Theirs');
  expect(mine.state().plan?.title).toBe('Mine');
  expect(isUnsaved(mine.state())).toBe(true);
});

test('both: mine goes to another file, and saves there from now on', async () => {
  const { folder, mine, title } = await twoWindows();
  mine.settlements.push('both');
  const other = join(folder, 'mine.evenrack');
  mine.shell.answers.push(other);
  await mine.files.save();
  expect(await title()).toBe('Theirs');
  expect(await readFile(other, 'utf8')).toContain('"title": "Mine"');
  expect(mine.state().fileRef?.key).toBe(other);
  expect(isUnsaved(mine.state())).toBe(false);
});

test('theirs: the file’s state is open, and saves without a question', async () => {
  const { mine, title } = await twoWindows();
  mine.settlements.push('theirs');
  await mine.files.save();
  expect(mine.state().plan?.title).toBe('Theirs');
  expect(isUnsaved(mine.state())).toBe(false);
  mine.edit('Mine after theirs');
  expect(await mine.files.save()).toBeNull();
  expect(await title()).toBe('Mine after theirs');
});

test('overwrite: mine is in the file, and the other window is asked in its turn', async () => {
  const { mine, theirs, title } = await twoWindows();
  mine.settlements.push('overwrite');
  await mine.files.save();
  expect(await title()).toBe('Mine');
  theirs.edit('Theirs again');
  theirs.settlements.push('neither');
  await theirs.files.save();
  expect(await title()).toBe('Mine');
});

test('two saves at once are one after the other and no conflict', async () => {
  const { mine, title } = await twoWindows();
  mine.settlements.push('overwrite');
  const first = mine.files.save();
  mine.edit('Second');
  expect(await Promise.all([first, mine.files.save()])).toEqual([null, null]);
  expect(await title()).toBe('Second');
  expect(isUnsaved(mine.state())).toBe(false);
});

test('the second window on a file says so, and a second start on the open file is told', async () => {
  const { path, mine, theirs } = await twoWindows();
  const said: string[] = [];
  const stops = [mine, theirs].map(({ store, host }) =>
    tellOpenElsewhere(store, host, (text) => void said.push(text)),
  );
  // Both at the same moment may both hear of it.
  await expect.poll(() => said[0]).toEqual(expect.stringContaining('open in another window too'));
  stops.forEach((stop) => stop());
  const again = await theirs.shell.openFromSystem(path);
  expect(await theirs.files.openText(again)).toContain('is open in this window already');
});

test('a copy is gone on with under a new name, and the old one goes', async () => {
  const folder = await tempFolder();
  const before = windowOn(folder);
  before.store.getState().open(samplePlan(), null);
  before.edit('Unsaved');
  const { plan, copyId } = before.state();
  if (!plan) throw new Error('no plan');
  await before.host.keepForRecovery(copyId, writeCompact(plan), null);
  const after = windowOn(folder);
  const [copy] = sortCopies(await after.host.recoveries()).usable;
  if (!copy) throw new Error('no copy');
  expect(await after.files.recover(copy)).toBeNull();
  expect(isUnsaved(after.state())).toBe(true);
  const copies = await after.host.recoveries();
  expect(copies.map((found) => found.copy)).toEqual([after.state().copyId]);
});

test('copies are sorted: older than their file, spent, damaged, of a newer version', () => {
  const plan = samplePlan();
  const text = writeCompact(plan);
  const ref = { key: '/a', name: 'a', seen: null };
  const found = (copy: string, kept: string | null, file: string | null, changedAt: string) => ({
    copy,
    place: `/recovery/${copy}.json`,
    kept: kept === null ? null : { text: kept, ref, writtenAt: '2026-03-31T12:00:00Z' },
    file: file === null ? null : { ref, text: file, changedAt },
  });
  const seen = 'a'.repeat(64);
  const untouched = ({ kept, file, ...found }: RecoveryCopy): RecoveryCopy => ({
    ...found,
    kept: kept && { ...kept, ref: { ...ref, seen } },
    file: file && { ...file, ref: { ...ref, seen } },
  });
  const [earlier, later] = ['2026-03-31T11:00:00Z', '2026-03-31T13:00:00Z'];
  const other = writePlan({ ...plan, title: 'Other' });
  const sorted = sortCopies([
    found('older', text, other, later),
    found('newer', text, other, earlier),
    // The clock has been set back since: nobody but the copy's window has written the file.
    untouched(found('clock', text, other, later)),
    found('spent', text, writePlan(plan), later),
    found('damaged', null, null, earlier),
    found('tooNew', text.replace(/"version":\d+/, '"version":99'), null, earlier),
    found('alone', text, null, earlier),
    found('strange', text, 'no plan', earlier),
  ]);
  expect(
    sorted.usable.map(({ copy, file }) => [copy, file.kind === 'plan' ? file.later : file.kind]),
  ).toEqual([
    ['older', true],
    ['newer', false],
    ['clock', false],
    ['alone', 'none'],
    ['strange', 'unreadable'],
  ]);
  expect(sorted.spent).toEqual(['spent']);
  expect(sorted.unreadable).toEqual([
    expect.stringMatching(/^\/recovery\/damaged\.json: is damaged .* stays where it is/) as string,
    expect.stringMatching(/^\/recovery\/tooNew\.json: .*99.* stays where it is/) as string,
  ]);
});

test('the next trial starts from the open plan, or from a recent one that keeps its file', async () => {
  const { path, mine, title } = await twoWindows();
  const [recent] = await mine.host.recentPlans();
  if (!recent) throw new Error('the open plan is recent');
  expect(recent.ref.key).toBe(path);
  const before = await title();
  mine.store.getState().close();
  expect(await mine.files.nextTrial(recent.ref)).toBeNull();
  const { plan, fileRef } = mine.state();
  expect(plan?.title).toBe(`${before}, next trial`);
  expect(plan?.layout).toBeNull();
  expect([fileRef, isUnsaved(mine.state())]).toEqual([null, true]);
  expect(mine.session.getState().stage).toBe('trial');
  expect(await title()).toBe(before);

  expect(await mine.files.nextTrial()).toBeNull();
  expect(mine.state().plan?.title).toContain('next trial, next trial');
});

test('all that a blinded plan holds leaves as one archive, whose tables tell no treatments', async () => {
  const folder = await tempFolder();
  const { shell, files, state } = windowOn(folder);
  state().open(drawnPlan(), null);
  state().dispatch(blindTrial, { date: '2026-03-02' });
  const path = join(folder, 'all.zip');
  shell.answers.push(path);
  expect(await files.exportAll()).toBeNull();
  const { FileIndex, FullPaths } = CFB.read(await readFile(path), { type: 'buffer' });
  const read = (name: string): string =>
    Buffer.from(
      (FileIndex[FullPaths.indexOf(`Root Entry/${name}`)]?.content ?? []) as Buffer,
    ).toString();
  const plan = state().plan;
  if (!plan) throw new Error('no plan');
  expect(read('plan.json')).toBe(writePlan(plan));
  expect(read('incidents.csv')).toContain('2026-03-02');
  const [head] = read('records.csv').split('\n');
  expect(head).toContain('measurement');
  for (const { name } of plan.trial?.factors ?? []) expect(head).not.toContain(name);
  shell.answers.push(null);
  expect(await files.exportAll()).toBeNull();
});

test('a plan that is dropped on the window opens as a copy, and no file is ever gone to', async () => {
  const { files, state, edit } = windowOn(await tempFolder());
  const said: (string | null)[] = [];
  let mayOpen = true;
  const window = new EventTarget();
  const stop = openDropped(
    window,
    files,
    () => mayOpen,
    (words) => said.push(words),
  );
  /** Whether the browser was kept from going to the file. */
  const drop = async (
    given: Record<string, string | null>,
    types = ['Files'],
  ): Promise<boolean> => {
    const dropped = Object.entries(given).map(([name, text]) => ({
      name,
      text: () => (text === null ? Promise.reject(new Error('gone')) : Promise.resolve(text)),
    }));
    const event = new Event('drop', { cancelable: true });
    window.dispatchEvent(Object.assign(event, { dataTransfer: { types, files: dropped } }));
    await turn();
    return event.defaultPrevented;
  };
  const plan = writePlan({ ...samplePlan(), title: 'Dropped' });
  expect(await drop({ 'a.evenrack': plan })).toBe(true);
  expect(said.splice(0)).toEqual([null]);
  expect(state()).toMatchObject({ plan: { title: 'Dropped' }, fileRef: null });
  edit('Mine');
  expect(await drop({ 'a.evenrack': plan, 'b.evenrack': plan })).toBe(true);
  expect(await drop({ 'photo.jpg': 'no plan' })).toBe(true);
  expect(await drop({ folder: null })).toBe(true);
  expect(said.splice(0)).toEqual([
    'One plan can be open at a time: drop one file alone.',
    expect.stringMatching(/^photo\.jpg: /) as string,
    'folder: cannot be read; it may be a folder, or have gone.',
  ]);
  mayOpen = false;
  expect(await drop({ 'a.evenrack': plan })).toBe(true);
  // Words that are dragged into a field are the field's.
  expect(await drop({}, ['text/plain'])).toBe(false);
  stop();
  expect(await drop({ 'a.evenrack': plan })).toBe(false);
  expect(said).toEqual([]);
  expect(state().plan?.title).toBe('Mine');
});

import type { MenuItemConstructorOptions } from 'electron';
import { helpEntries, helpLabels, type HelpEntry } from '../../../shared-types/window/help';
import type { MenuAction } from '../../../shared-types/window/ipc';

type Item = MenuItemConstructorOptions;

/**
 * The menu bar. The window handles the keys itself, as it does in a browser: the menu only shows
 * them, so that Ctrl+Z in a text field stays the field's own. On a Mac the menu hears a key that the
 * window has left alone.
 */
export function menuTemplate(isMac: boolean, act: (action: MenuAction) => void): Item[] {
  const item = (label: string, action: MenuAction, accelerator?: string): Item => ({
    label,
    ...(accelerator === undefined ? {} : { accelerator }),
    registerAccelerator: false,
    click: () => act(action),
  });
  const line: Item = { type: 'separator' };
  const help = (entry: HelpEntry): Item =>
    item(helpLabels[entry], entry, entry === 'help-glossary' ? 'F1' : undefined);
  // On a Mac it has its place in the menu of the program.
  const helps = helpEntries.filter((entry) => !(isMac && entry === 'about'));
  return [
    ...(isMac ? [macMenu(help('about'))] : []),
    {
      label: '&File',
      submenu: [
        item('New plan', 'new', 'CmdOrCtrl+N'),
        item('Open plan…', 'open', 'CmdOrCtrl+O'),
        ...(isMac ? [macRecents] : []),
        line,
        item('Save', 'save', 'CmdOrCtrl+S'),
        item('Save as…', 'save-as', 'CmdOrCtrl+Shift+S'),
        item('Export everything…', 'export-all'),
        line,
        isMac ? { role: 'close' } : { role: 'quit' },
      ],
    },
    {
      label: '&Edit',
      submenu: [
        item('Undo', 'undo', 'CmdOrCtrl+Z'),
        item('Redo', 'redo', 'CmdOrCtrl+Shift+Z'),
        line,
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
      ],
    },
    {
      label: '&View',
      submenu: [
        item('Runs of this trial…', 'runs'),
        line,
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        line,
        { role: 'togglefullscreen' },
      ],
    },
    ...(isMac ? [{ role: 'windowMenu' } as const] : []),
    { role: 'help', label: '&Help', submenu: helps.map(help) },
  ];
}

/** Kept by the system. */
const macRecents: Item = {
  role: 'recentDocuments',
  label: 'Open recent',
  submenu: [{ role: 'clearRecentDocuments' }],
};

function macMenu(about: Item): Item {
  const line: Item = { type: 'separator' };
  return {
    role: 'appMenu',
    label: 'Evenrack',
    submenu: [
      about,
      line,
      { role: 'services' },
      line,
      { role: 'hide' },
      { role: 'hideOthers' },
      { role: 'unhide' },
      line,
      { role: 'quit' },
    ],
  };
}

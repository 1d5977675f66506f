import type { MenuItemConstructorOptions } from 'electron';
import { helpEntries, helpLabels } from '../../shared-types/help';
import type { MenuAction } from '../../shared-types/ipc';

/**
 * The menu bar. The window handles the keys itself, as it does in a browser: the menu only shows
 * them, so that Ctrl+Z in a text field stays the field's own.
 */
export function menuTemplate(
  isMac: boolean,
  act: (action: MenuAction) => void,
): MenuItemConstructorOptions[] {
  const item = (
    label: string,
    action: MenuAction,
    accelerator?: string,
  ): MenuItemConstructorOptions => ({
    label,
    ...(accelerator === undefined ? {} : { accelerator }),
    registerAccelerator: false,
    click: () => act(action),
  });
  const line: MenuItemConstructorOptions = { type: 'separator' };
  return [
    ...(isMac ? [{ role: 'appMenu' } as const] : []),
    {
      label: '&File',
      submenu: [
        item('New plan', 'new', 'CmdOrCtrl+N'),
        item('Open plan…', 'open', 'CmdOrCtrl+O'),
        line,
        item('Save', 'save', 'CmdOrCtrl+S'),
        item('Save as…', 'save-as', 'CmdOrCtrl+Shift+S'),
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
    {
      role: 'help',
      label: '&Help',
      submenu: helpEntries.map((entry) =>
        item(helpLabels[entry], entry, entry === 'help-glossary' ? 'F1' : undefined),
      ),
    },
  ];
}

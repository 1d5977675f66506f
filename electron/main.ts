import { tmpdir } from 'node:os';
import {
  app,
  BrowserWindow,
  crashReporter,
  dialog,
  ipcMain,
  Menu,
  powerMonitor,
  protocol,
  session,
} from 'electron';
import { startSignTo } from './services/startSign';
import { runShell } from './services/window/shell';

// The outer shell: hands Electron to the services. Whatever can be wrong in an interesting way
// stands there, where it is tested without Electron.
runShell(
  { app, BrowserWindow, crashReporter, dialog, ipcMain, Menu, powerMonitor, protocol, session },
  {
    here: import.meta.dirname,
    temp: tmpdir(),
    platform: process.platform,
    argv: process.argv,
    folder: process.cwd(),
    tellStart: startSignTo(process.env['EVENRACK_START_SIGN']),
    user: process.getuid?.() ?? 'here',
    onFault(hear) {
      process.on('uncaughtException', hear);
      process.on('unhandledRejection', hear);
    },
  },
);

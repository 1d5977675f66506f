import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  root: 'renderer/app',
  // The desktop serves the page under a scheme of its own, the browser from wherever it is put.
  base: './',
  plugins: [react()],
  build: {
    outDir: '../../out/renderer',
    emptyOutDir: true,
    target: 'chrome120',
    // The policy of the page forbids scripts and fonts that stand in it.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 3000,
    sourcemap: false,
    // Notes about slow plugins come and go with the load of the machine.
    rolldownOptions: { checks: { bundlerTimings: false } },
  },
  worker: { format: 'es' },
  server: { host: '127.0.0.1' },
});

import '@fontsource-variable/atkinson-hyperlegible-next';
import { wrap } from 'comlink';
import { createRoot } from 'react-dom/client';
import { chooseHost } from '../host';
import { createFindingsStore } from '../store/findingsStore';
import { createPlanStore } from '../store/planStore';
import { createSessionStore } from '../store/sessionStore';
import '../ui/tokens.css';
import '../ui/ui.css';
import { App } from './App';
import './app.css';
import type { Jobs } from './worker';

const host = chooseHost(window);
const stores = { plan: createPlanStore(), session: createSessionStore() };
const jobs = wrap<Jobs>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }));
const findings = createFindingsStore((input, choice) => jobs.findings(input, choice));

const root = document.getElementById('root');
if (!root) throw new Error('index.html: no element with the id root');
createRoot(root).render(<App host={host} stores={stores} findings={findings} />);

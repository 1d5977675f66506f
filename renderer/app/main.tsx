import '@fontsource-variable/atkinson-hyperlegible-next';
import { createRoot } from 'react-dom/client';
import { chooseHost, storedSettings } from '../host';
import { createFindingsStore } from '../store/findingsStore';
import { createPlanStore } from '../store/planStore';
import { thisMinute } from '../ui/today';
import '../ui/tokens.css';
import '../ui/ui.css';
import { App } from './App';
import './app.css';
import { sessionWith } from './settings';
import { startJob } from './jobs/startJob';

const host = chooseHost(window);
const session = sessionWith(storedSettings(window), navigator.language);
const plan = createPlanStore(() => {
  const { initials, entryBy } = session.getState();
  const by = initials[entryBy];
  return { at: thisMinute(), ...(by === '' ? {} : { by }) };
});
const stores = { plan, session };
const findings = createFindingsStore((data, choice, tell) =>
  startJob('findings', { data, choice }, tell),
);

const root = document.getElementById('root');
if (!root) throw new Error('index.html: no element with the id root');
createRoot(root).render(
  <App host={host} stores={stores} findings={findings} startJob={startJob} />,
);

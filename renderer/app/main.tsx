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
import './help/help.css';
import { detailsOf } from './details';
import { sessionWith } from './settings';
import { startOne } from './jobs/startJob';
import { inParts } from '../derive';

const host = chooseHost(window);
// The desktop shell names the place that the system is set to, which may differ from its language.
const region = new URLSearchParams(window.location.search).get('region');
const session = sessionWith(storedSettings(window), region || navigator.language);
const plan = createPlanStore(() => {
  const { initials, entryBy } = session.getState();
  const by = initials[entryBy];
  return { at: thisMinute(), ...(by === '' ? {} : { by }) };
});
const stores = { plan, session };
// A page that is not told how many processors there are takes one.
const startJob = inParts(startOne, navigator.hardwareConcurrency || 1);
const findings = createFindingsStore((data, choice, tell) =>
  startJob('findings', { data, choice }, tell),
);

const root = document.getElementById('root');
if (!root) throw new Error('index.html: no element with the id root');
const note = (error: unknown) => host.noteError(detailsOf(error));
window.addEventListener('error', ({ error, message }) => note(error ?? message));
createRoot(root, {
  // One that nobody catches comes to the window; one that a guard has caught, here alone.
  onCaughtError(error) {
    // oxlint-disable-next-line no-console -- as React itself would, for who looks into it
    console.error(error);
    note(error);
  },
}).render(<App host={host} stores={stores} findings={findings} startJob={startJob} />);

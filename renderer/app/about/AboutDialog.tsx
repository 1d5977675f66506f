import { useEffect, useState } from 'react';
import { engineVersion } from '../../derive';
import type { About, Host } from '../../host/host';
import { useSession } from '../../store/context';
import { Button, Dialog, Fold } from '../../ui';
import { copyToClipboard } from '../../ui/clipboard';
import { reasonOf } from '../../words';
import { TermSources } from './TermSources';
import { Wordmark } from '../Wordmark';
import licence from '../../../LICENSE?raw';
import './about.css';

/** What the program is, whose work is in it, where it keeps things and what went wrong so far. */
export function AboutDialog({ host }: { host: Host }) {
  const shown = useSession((s) => s.aboutShown);
  const showAbout = useSession((s) => s.showAbout);
  return shown ? <AboutEvenrack host={host} onClose={() => showAbout(false)} /> : null;
}

function AboutEvenrack({ host, onClose }: { host: Host; onClose: () => void }) {
  const [about, setAbout] = useState<About | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    host.about().then(setAbout, (error: unknown) => setProblem(reasonOf(error)));
  }, [host]);
  return (
    <Dialog
      title="About Evenrack"
      wide
      testId="about"
      onClose={onClose}
      actions={
        <Button tone="primary" onClick={onClose}>
          Close
        </Button>
      }
    >
      <p className="about-head">
        <Wordmark size={40} /> <span>Evenrack {engineVersion}, free software</span>
      </p>
      <p>
        It sends nothing and fetches nothing. It does not look for new versions; install one over
        this one when you want it.
      </p>
      {about ? (
        <p>
          Recent plans, copies of unsaved work and choices are kept in{' '}
          <span className="about-place">{about.dataPlace}</span>. Your plans are where you saved
          them: plain JSON, with tables as CSV, drawings as SVG and reports as HTML or PDF. Plan,
          Export everything… takes all of a plan along at once.
        </p>
      ) : null}
      {problem ? <p role="alert">{problem}</p> : null}
      <Fold title="Errors met so far" testId="about-log">
        {() => (about ? <Log about={about} /> : null)}
      </Fold>
      <Fold title="Licence of Evenrack (MIT)">
        <pre className="about-text">{licence}</pre>
      </Fold>
      <Fold title="Where its terms are defined">{() => <TermSources />}</Fold>
      <Fold title="Work of others in it, and their licences" testId="about-others">
        {() => <Others />}
      </Fold>
    </Dialog>
  );
}

/** The log is told to nobody but who asks for it here. */
function Log({ about }: { about: About }) {
  const [said, setSaid] = useState<string | null>(null);
  if (about.log === '')
    return <p>None. They would be kept in {about.logPlace}, and sent nowhere.</p>;
  const copy = () =>
    void copyToClipboard({ 'text/plain': about.log }).then(
      () => setSaid('Copied.'),
      (error: unknown) => setSaid(reasonOf(error)),
    );
  return (
    <>
      <p>
        Kept in <span className="about-place">{about.logPlace}</span>, the oldest go first. Nothing
        of it is sent: if you report a fault, copy the lines that matter.
      </p>
      <pre className="about-text" tabIndex={0} aria-label="Errors met so far">
        {about.log}
      </pre>
      <Button onClick={copy}>Copy all of it</Button>
      {said ? <span role="status"> {said}</span> : null}
    </>
  );
}

type ThirdParty = { name: string; version: string; licence: string; text: string };

/** Read only when somebody asks: a hundred kilobytes of licences. */
function Others() {
  const [parties, setParties] = useState<readonly ThirdParty[]>([]);
  useEffect(() => {
    void import('./thirdParty.json').then((read) => setParties(read.default));
  }, []);
  return (
    <ul className="about-others">
      {parties.map(({ name, version, licence, text }) => (
        <li key={`${name} ${version}`}>
          <Fold title={`${name} ${version}`} said={licence}>
            {() => <pre className="about-text">{text}</pre>}
          </Fold>
        </li>
      ))}
    </ul>
  );
}

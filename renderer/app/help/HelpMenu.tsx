import { helpEntries, helpLabels } from '../../../shared-types/window/help';
import { useStores } from '../../store/context';
import { MenuButton } from '../../ui';
import { openHelp } from './openHelp';

/** The help, in the window's bar and on the start screen. */
export function HelpMenu() {
  const { session } = useStores();
  return (
    <MenuButton
      label="Help"
      title="Help. F1: what a word means"
      testId="help"
      entries={helpEntries.map((entry) => ({
        id: entry,
        label: helpLabels[entry],
        onChoose: () => openHelp(entry, session.getState()),
      }))}
    />
  );
}

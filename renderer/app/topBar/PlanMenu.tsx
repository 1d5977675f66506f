import { MenuButton } from '../../ui';
import type { FileActions } from '../files/files';

/** How a plan begins, anew or from this one, and how all of it leaves. */
export function PlanMenu(props: {
  files: FileActions;
  say: (problem: string | null) => void;
  onRename: () => void;
}) {
  const { files, say } = props;
  return (
    <MenuButton
      label="Plan"
      testId="plan-menu"
      edge="left"
      entries={[
        {
          id: 'plan-quick',
          label: 'Quick start…',
          onChoose: () => void files.quickStart().then(say),
        },
        {
          id: 'plan-new',
          label: 'New, empty rack',
          onChoose: () => void files.newPlan().then(say),
        },
        { id: 'plan-rename', label: 'Rename', onChoose: props.onRename },
        {
          id: 'plan-next',
          label: 'Next trial from this plan',
          onChoose: () => void files.nextTrial().then(say),
        },
        {
          id: 'plan-export',
          label: 'Export everything…',
          onChoose: () => void files.exportAll().then(say),
        },
      ]}
    />
  );
}

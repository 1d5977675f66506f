import { addZone } from '../../document/commands';
import { useDispatch } from '../../store/context';
import { Button, EmptyState } from '../../ui';

/** In place of figures where nothing floods anything. */
export function NoZone() {
  const dispatch = useDispatch();
  return (
    <EmptyState
      title="No zone yet"
      actions={
        <Button tone="primary" data-testid="add-zone" onClick={() => dispatch(addZone, {})}>
          Add a zone
        </Button>
      }
    >
      A zone is one reservoir and pump with the trays it floods, their drain and its hours.
    </EmptyState>
  );
}

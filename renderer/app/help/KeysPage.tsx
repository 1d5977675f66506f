import { canvasKeys } from '../../canvas';
import { recordKeys } from '../../panes/records';
import { Keys } from '../../ui';
import { windowKeys } from '../shortcuts';

/** What the keys do: everywhere, on the rack, in the records. */
export function KeysPage() {
  return (
    <>
      <h3>Everywhere</h3>
      <Keys keys={windowKeys} />
      <h3>On the rack</h3>
      <Keys keys={canvasKeys} />
      <h3>In the records</h3>
      <Keys keys={recordKeys} />
    </>
  );
}

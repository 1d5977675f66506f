import type { Lamp, LampKind } from '../../../shared-types/rack';
import { Refusal } from '../../words';

/** The lamp's kind. Throws where the list does not hold it. */
export function kindOfLamp(
  { lampKinds }: { lampKinds: readonly LampKind[] },
  lamp: Lamp,
): LampKind {
  const kind = lampKinds.find((k) => k.id === lamp.kindId);
  if (!kind) {
    throw new Refusal(`lamp ${lamp.id}: kind ${lamp.kindId} is not among the plan's lamp kinds`);
  }
  return kind;
}

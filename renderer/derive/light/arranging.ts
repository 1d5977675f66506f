import type { Shelf } from '../../../shared-types/rack';
import { attainableMean, type ArrangeRequest } from '../../engine/light';
import { memo } from '../memo';
import { attempt } from '../trial/trial';

type Asked = Omit<ArrangeRequest, 'targetMeanUmol'>;

// What is asked is put together anew on every look, of parts that stay the same.
const attainableMemo = memo(
  (
    shelf: Shelf,
    lampKinds: Asked['lampKinds'],
    kind: Asked['kind'],
    readings: Asked['readings'],
    rest: string,
  ) => {
    const { bayId, ...asked } = JSON.parse(rest) as Omit<Asked, 'shelf' | 'lampKinds' | 'kind'>;
    const bay = bayId === undefined ? {} : { bayId };
    return attempt(() =>
      attainableMean({
        ...asked,
        ...bay,
        ...(readings ? { readings } : {}),
        shelf,
        lampKinds,
        kind,
      }),
    );
  },
  12,
);

/** Mean PPFD (µmol m⁻² s⁻¹) that lamps to be arranged can give, or the sentence why none can. */
export function attainableMeanOf({ shelf, lampKinds, kind, readings, ...rest }: Asked) {
  return attainableMemo(shelf, lampKinds, kind, readings, JSON.stringify(rest));
}

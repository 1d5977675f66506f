import { emissionKinds, emissionWords, type Emission } from '../../../../shared-types/rack';
import { fileOf } from '../../../engine/lamps';
import { FieldRow, NumberField, Select } from '../../../ui';

/** How a lamp's light leaves it. A photometric file is taken elsewhere, and named here. */
export function EmissionFields(props: {
  emission: Emission;
  onEdit: (emission: Emission) => void;
}) {
  const { emission, onEdit } = props;
  const file = fileOf(emission);
  const kinds = emissionKinds.filter((kind) => kind === emission.kind || emissionOf(kind) !== null);
  return (
    <FieldRow>
      <Select
        label="Beam"
        testId="kind-emission"
        value={emission.kind}
        options={kinds.map((value) => ({
          value,
          label: value === file?.kind ? `file ${file.fileName}` : emissionWords[value],
        }))}
        onCommit={(kind) => {
          const chosen = emissionOf(kind);
          if (chosen) onEdit(chosen);
        }}
      />
      <Angle {...props} />
    </FieldRow>
  );
}

function Angle({ emission, onEdit }: { emission: Emission; onEdit: (emission: Emission) => void }) {
  switch (emission.kind) {
    case 'beam':
      return (
        <NumberField
          label="Full angle at half peak"
          testId="kind-beam"
          unit="°"
          lowest={1}
          highest={179}
          value={emission.fullAngleDeg}
          onCommit={(fullAngleDeg) => onEdit({ kind: 'beam', fullAngleDeg })}
        />
      );
    case 'lambertian':
    case 'file':
      return null;
    default:
      return emission satisfies never;
  }
}

/** What a choice begins with; null where it needs a file first. */
function emissionOf(kind: Emission['kind']): Emission | null {
  switch (kind) {
    case 'lambertian':
      return { kind };
    case 'beam':
      return { kind, fullAngleDeg: 90 };
    case 'file':
      return null;
    default:
      return kind satisfies never;
  }
}

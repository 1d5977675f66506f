import type { Emission, LampKind } from '../../../shared-types/rack';
import { deed } from '../../canvas';
import { editLampKind } from '../../document/commands';
import { usePlanStore } from '../../store';
import { FieldRow, LengthField, NumberField, Select, TextField } from '../../ui';
import { LampFile } from './LampFile';
import { photonFlux, restated } from './lampOutput';
import { useAct } from './useAct';
import { figures, ownFrom, shownIn, unitOf, type UnitSystem } from '../../words';

/** As heavy as a plan lets a lamp be. */
const MOST_KG = 200;

/** Every figure of one model of lamp; it holds for all lamps of the kind. */
export function LampKindFields({ kind, lengths }: { kind: LampKind; lengths: UnitSystem }) {
  const act = useAct();
  const shelves = usePlanStore((s) => s.plan?.rack.shelves) ?? [];
  const used = shelves.flatMap((s) => s.lamps).filter((l) => l.kindId === kind.id).length;
  const edit = (patch: Partial<Omit<LampKind, 'id'>>) =>
    act(deed(editLampKind, { kindId: kind.id, patch }));
  return (
    <div className="rack-kind">
      <TextField
        label="Name"
        testId="kind-name"
        value={kind.name}
        remark={`${used} ${used === 1 ? 'lamp' : 'lamps'} of this kind on the rack.`}
        onCommit={(name) => edit({ name })}
      />
      <FieldRow>
        <Select
          label="Shape"
          testId="kind-shape"
          value={kind.shape}
          options={[
            { value: 'strip', label: 'strip' },
            { value: 'panel', label: 'panel' },
            { value: 'spot', label: 'spot' },
          ]}
          onCommit={(shape) => edit({ shape })}
        />
        {kind.shape !== 'spot' ? (
          <LengthField
            label="Lit length"
            testId="kind-length"
            system={lengths}
            valueMm={kind.lengthMm}
            lowestMm={0}
            onCommit={(lengthMm) => edit({ lengthMm })}
          />
        ) : null}
        {kind.shape === 'panel' ? (
          <LengthField
            label="Lit width"
            testId="kind-width"
            system={lengths}
            valueMm={kind.widthMm}
            lowestMm={0}
            onCommit={(widthMm) => edit({ widthMm })}
          />
        ) : null}
        <NumberField
          label="Power drawn"
          testId="kind-power"
          unit="W"
          lowest={0}
          highest={20_000}
          value={kind.powerW}
          onCommit={(powerW) => edit({ powerW })}
        />
        <NumberField
          label="Mass"
          testId="kind-mass"
          unit={unitOf('mass', lengths)}
          lowest={0}
          highest={Math.floor(shownIn('mass', lengths, MOST_KG))}
          value={shownIn('mass', lengths, kind.massKg)}
          onCommit={(mass) => edit({ massKg: Number(ownFrom('mass', lengths, mass).toFixed(4)) })}
        />
      </FieldRow>
      <EmissionFields emission={kind.emission} onEdit={(emission) => edit({ emission })} />
      <LampFile kind={kind} onEdit={edit} />
      <OutputFields kind={kind} onEdit={edit} />
    </div>
  );
}

function EmissionFields(props: { emission: Emission; onEdit: (emission: Emission) => void }) {
  const { emission, onEdit } = props;
  const options: { value: Emission['kind']; label: string }[] = [
    { value: 'lambertian', label: 'flat face (Lambertian)' },
    { value: 'beam', label: 'beam' },
  ];
  if (emission.kind === 'file') {
    options.push({ value: 'file', label: `file ${emission.fileName}` });
  }
  return (
    <FieldRow>
      <Select
        label="Light leaves as"
        testId="kind-emission"
        value={emission.kind}
        options={options}
        onCommit={(kind) => {
          if (kind === 'lambertian') onEdit({ kind });
          if (kind === 'beam') onEdit({ kind, fullAngleDeg: 90 });
        }}
      />
      {emission.kind === 'beam' ? (
        <NumberField
          label="Full angle at half peak"
          testId="kind-beam"
          unit="°"
          lowest={1}
          highest={179}
          value={emission.fullAngleDeg}
          onCommit={(fullAngleDeg) => onEdit({ kind: 'beam', fullAngleDeg })}
        />
      ) : null}
    </FieldRow>
  );
}

function OutputFields(props: {
  kind: LampKind;
  onEdit: (patch: Partial<Omit<LampKind, 'id'>>) => void;
}) {
  const { kind, onEdit } = props;
  const { output } = kind;
  const flux = photonFlux(output, kind.powerW);
  return (
    <>
      <FieldRow>
        <Select
          label="Output known as"
          testId="kind-output"
          value={output.kind}
          options={[
            { value: 'photons', label: 'photon flux' },
            { value: 'watts', label: 'watts × efficacy' },
            { value: 'lumens', label: 'lumens' },
          ]}
          onCommit={(as) => onEdit({ output: restated(kind, as) })}
        />
        {output.kind === 'photons' ? (
          <NumberField
            label="Photon flux"
            testId="kind-flux"
            unit="µmol/s"
            lowest={0.001}
            highest={100_000}
            value={output.fluxUmolS}
            onCommit={(fluxUmolS) => onEdit({ output: { kind: 'photons', fluxUmolS } })}
          />
        ) : null}
        {output.kind === 'watts' ? (
          <NumberField
            label="Efficacy"
            testId="kind-efficacy"
            unit="µmol/J"
            lowest={0.001}
            highest={100}
            step={0.1}
            value={output.efficacyUmolJ}
            onCommit={(efficacyUmolJ) => onEdit({ output: { kind: 'watts', efficacyUmolJ } })}
          />
        ) : null}
        {output.kind === 'lumens' ? (
          <NumberField
            label="Luminous flux"
            testId="kind-lumens"
            unit="lm"
            lowest={0.001}
            highest={10_000_000}
            step={10}
            value={output.lumens}
            onCommit={(lumens) => onEdit({ output: { ...output, lumens } })}
          />
        ) : null}
      </FieldRow>
      {output.kind === 'lumens' ? (
        <FieldRow>
          <NumberField
            label="lm per µmol/s"
            testId="kind-factor"
            lowest={0.001}
            highest={1000}
            value={output.lumensPerUmolS}
            onCommit={(lumensPerUmolS) => onEdit({ output: { ...output, lumensPerUmolS } })}
          />
          <NumberField
            label="at least"
            testId="kind-factor-lowest"
            lowest={0.001}
            highest={1000}
            value={output.lowest}
            onCommit={(lowest) => onEdit({ output: { ...output, lowest } })}
          />
          <NumberField
            label="at most"
            testId="kind-factor-highest"
            lowest={0.001}
            highest={1000}
            value={output.highest}
            onCommit={(highest) => onEdit({ output: { ...output, highest } })}
          />
        </FieldRow>
      ) : null}
      {output.kind !== 'photons' ? (
        <p className="field-remark" data-testid="kind-flux-said">
          Comes to {figures(flux)} µmol/s at full output
          {output.kind === 'lumens'
            ? `, between ${figures(output.lumens / output.highest)} and ${figures(output.lumens / output.lowest)}.`
            : '.'}
        </p>
      ) : null}
    </>
  );
}

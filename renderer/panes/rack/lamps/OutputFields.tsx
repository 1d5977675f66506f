import {
  outputKinds,
  outputWords,
  type LampKind,
  type LampOutput,
} from '../../../../shared-types/rack';
import { lampOutputOf } from '../../../derive';
import { photometryAnswer } from '../../../engine/lamps';
import { FieldRow, NumberField, Select } from '../../../ui';
import { figures } from '../../../words';

/** How much light a lamp gives. To state it in another way leaves the light as it is. */
export function OutputFields(props: {
  kind: LampKind;
  onEdit: (output: LampOutput) => void;
  onRestate: (as: LampOutput['kind']) => void;
}) {
  const { kind, onEdit, onRestate } = props;
  return (
    <>
      <Select
        label="Light output given as"
        testId="kind-output"
        value={kind.output.kind}
        options={outputKinds.map((value) => ({ value, label: outputWords[value] }))}
        onCommit={onRestate}
      />
      <Amount kind={kind} onEdit={onEdit} />
      <Photons kind={kind} onEdit={onEdit} />
    </>
  );
}

function Amount({ kind, onEdit }: { kind: LampKind; onEdit: (output: LampOutput) => void }) {
  const { output } = kind;
  switch (output.kind) {
    case 'photons':
      return (
        <NumberField
          label="Photon flux"
          testId="kind-flux"
          unit="µmol/s"
          lowest={0.001}
          highest={100_000}
          value={output.fluxUmolS}
          onCommit={(fluxUmolS) => onEdit({ kind: 'photons', fluxUmolS })}
        />
      );
    case 'watts':
      return (
        <NumberField
          label="Efficacy"
          testId="kind-efficacy"
          unit="µmol/J"
          lowest={0.001}
          highest={100}
          step={0.1}
          value={output.efficacyUmolJ}
          onCommit={(efficacyUmolJ) => onEdit({ kind: 'watts', efficacyUmolJ })}
        />
      );
    case 'lumens': {
      const file = photometryAnswer(kind);
      const own = file?.ok ? file.photometry.integratedLumens : null;
      return (
        <NumberField
          label="Luminous flux"
          testId="kind-lumens"
          unit="lm"
          lowest={0.001}
          highest={10_000_000}
          step={10}
          value={output.lumens}
          remark={own === null ? undefined : totalUsed(own, output.lumens)}
          onCommit={(lumens) => onEdit({ ...output, lumens })}
        />
      );
    }
    default:
      return output satisfies never;
  }
}

/** Which total is used where a file has one of its own. */
function totalUsed(fileLumens: number, typed: number): string {
  const own = `${figures(fileLumens, 4)} lm`;
  const scale = typed / fileLumens;
  return Math.abs(scale - 1) < 5e-4
    ? `The file’s own total, ${own}.`
    : `This total is used: the file’s curve, ${own}, times ${figures(scale)}.`;
}

/** How what is stated comes to photons. */
function Photons({ kind, onEdit }: { kind: LampKind; onEdit: (output: LampOutput) => void }) {
  const { output } = kind;
  switch (output.kind) {
    case 'photons':
      return null;
    case 'watts':
      return <FluxSaid kind={kind} />;
    case 'lumens':
      return (
        <>
          <Factor output={output} onEdit={onEdit} />
          <FluxSaid kind={kind} />
        </>
      );
    default:
      return output satisfies never;
  }
}

type Lumens = Extract<LampOutput, { kind: 'lumens' }>;

function Factor({ output, onEdit }: { output: Lumens; onEdit: (output: Lumens) => void }) {
  const bounds = { lowest: 0.01, highest: 1000 };
  return (
    <FieldRow>
      <NumberField
        {...bounds}
        label="lm per µmol/s"
        testId="kind-factor"
        value={output.lumensPerUmolS}
        onCommit={(lumensPerUmolS) => onEdit({ ...output, lumensPerUmolS })}
      />
      <NumberField
        {...bounds}
        label="at least"
        testId="kind-factor-lowest"
        value={output.lowest}
        onCommit={(lowest) => onEdit({ ...output, lowest })}
      />
      <NumberField
        {...bounds}
        label="at most"
        testId="kind-factor-highest"
        value={output.highest}
        onCommit={(highest) => onEdit({ ...output, highest })}
      />
    </FieldRow>
  );
}

/** The photons that the stated figures come to: those that the light is computed with. */
function FluxSaid({ kind }: { kind: LampKind }) {
  const found = lampOutputOf(kind);
  if (!found.ok) return null;
  const { umolS, lowest, highest } = found.value.flux;
  const range = highest > lowest ? `, between ${figures(lowest)} and ${figures(highest)}` : '';
  return (
    <p className="field-remark" data-testid="kind-flux-said">
      Comes to {figures(umolS)} µmol/s at full output{range}.
    </p>
  );
}

import { useState } from 'react';
import type { LampKind } from '../../../../shared-types/rack';
import { lampFileOf, lampOutputOf, polarCurvesOf } from '../../../derive';
import { photometryAnswer, type Photometry } from '../../../engine/lamps';
import { useHostOffer } from '../../../store/hostContext';
import { Button, Facts, Problem } from '../../../ui';
import { figures, fixed, rounded, reasonOf } from '../../../words';

/**
 * Takes a lamp's distribution from a photometric file, kept whole in the plan, and shows what the
 * file says. A file that cannot be used is answered with its line and changes nothing.
 */
export function LampFile(props: {
  kind: LampKind;
  onEdit: (patch: Partial<Omit<LampKind, 'id'>>) => void;
}) {
  const { kind, onEdit } = props;
  const host = useHostOffer();
  const [problem, setProblem] = useState<string | null>(null);
  const choose = async () => {
    setProblem(null);
    try {
      const opened = await host.open('lamp');
      if (!opened) return;
      const answer = lampFileOf(opened.text);
      if (answer.ok) {
        onEdit({ emission: { kind: 'file', fileName: opened.ref.name, text: opened.text } });
      } else {
        const { line, reason, found, expected } = answer;
        setProblem(
          `${opened.ref.name}, line ${line}: ${reason}; found ${found}, expected ${expected}. ` +
            'Nothing was changed.',
        );
      }
    } catch (error) {
      setProblem(reasonOf(error));
    }
  };
  const answer = photometryAnswer(kind);
  return (
    <>
      <div className="section-actions">
        <Button data-testid="lamp-file-open" onClick={() => void choose()}>
          {answer ? 'Another photometric file …' : 'Photometric file (IES LM-63) …'}
        </Button>
      </div>
      <Problem text={problem} testId="lamp-file-problem" />
      {answer?.ok ? (
        <div data-testid="lamp-file">
          <PolarDiagram photometry={answer.photometry} />
          <Facts rows={factsOf(kind, answer.photometry)} />
          {answer.warnings.map((warning) => (
            <p key={warning} className="field-remark">
              {warning}
            </p>
          ))}
        </div>
      ) : null}
    </>
  );
}

function factsOf(kind: LampKind, photometry: Photometry): (readonly [string, string])[] {
  const { statedLumens, integratedLumens, inputWatts, tilt } = photometry;
  const output = lampOutputOf(kind);
  return [
    ['Integrated from its candela', `${figures(integratedLumens)} lm`],
    ['Stated for the bare lamps', statedLumens === null ? 'none' : `${figures(statedLumens)} lm`],
    ...(statedLumens
      ? ([['Integrated : stated', fixed(integratedLumens / statedLumens, 3)]] as const)
      : []),
    ...(tilt ? ([['Tilt table', tiltWords(tilt)]] as const) : []),
    ['Power in the file', `${figures(inputWatts)} W`],
    [
      'Photons, by the output below',
      output.ok ? `${figures(output.value.flux.umolS)} µmol/s` : output.reason,
    ],
  ];
}

/** What the file's tilt table does to lamps that hang tilted. */
function tiltWords({ angles, multipliers }: NonNullable<Photometry['tilt']>): string {
  const [low, high] = [Math.min(...multipliers), Math.max(...multipliers)];
  const range = low === high ? fixed(low, 2) : `${fixed(low, 2)} to ${fixed(high, 2)}`;
  return `output × ${range}, applied by each lamp’s tilt (0 to ${figures(angles.at(-1) ?? 0)}°)`;
}

const SIZE = 220;
const RADIUS = SIZE / 2 - 12;
const DASHES = ['', '5 3'];

/** Intensity by direction, straight down at the bottom; rings at a half and the whole of the peak. */
function PolarDiagram({ photometry }: { photometry: Photometry }) {
  const curves = polarCurvesOf(photometry);
  const peak = Math.max(...curves.flatMap((curve) => curve.points.map((point) => point.candela)));
  const share = (candela: number) => (peak > 0 ? (candela / peak) * RADIUS : 0);
  const path = (points: (typeof curves)[number]['points']) =>
    points
      .map(({ angleDeg, candela }) => {
        const angle = (angleDeg * Math.PI) / 180;
        const x = share(candela) * Math.sin(angle);
        const y = share(candela) * Math.cos(angle);
        return `${rounded(x, 1)} ${rounded(y, 1)}`;
      })
      .join('L');
  return (
    <figure>
      <svg
        viewBox={`${-SIZE / 2} ${-SIZE / 2} ${SIZE} ${SIZE}`}
        width={SIZE}
        height={SIZE}
        role="img"
        aria-label={`Polar diagram, peak ${figures(peak)} cd`}
      >
        <g fill="none" stroke="currentColor">
          {[0.5, 1].map((ring) => (
            <circle key={ring} r={RADIUS * ring} strokeOpacity={0.25} />
          ))}
          <path d={`M${-RADIUS} 0H${RADIUS}M0 ${-RADIUS}V${RADIUS}`} strokeOpacity={0.25} />
          {curves.map((curve, i) => (
            <path
              key={curve.name}
              d={`M${path(curve.points)}Z`}
              strokeWidth={1.6}
              strokeDasharray={DASHES[i]}
            />
          ))}
        </g>
      </svg>
      <figcaption className="field-remark">
        {curves.map((curve, i) => `${curve.name} (${i === 0 ? 'solid' : 'dashed'})`).join(', ')};
        the outer ring is {figures(peak)} cd.
      </figcaption>
    </figure>
  );
}

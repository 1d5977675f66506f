import { useCallback, useMemo } from 'react';
import {
  anyModelWords,
  criterionBasis,
  edgeMeansWords,
  positionWords,
  isRatio,
  saidDifference,
  saidInterval,
  type Effect,
  type Findings,
} from '../../../engine/findings';
import {
  edgeFigure,
  lightFigure,
  matrixWords,
  positionMatrix,
  positionTable,
  sensitivityFigure,
  sensitivityTable,
  type Figure,
  type FigureSize,
} from '../../../print/report';
import { Fold } from '../../../ui';
import { FigureView } from '../parts/FigureView';
import { FoldedPart } from '../parts/FoldedPart';
import { placeSummary } from '../parts/summaries';
import { TableView } from '../parts/TableView';
import { percentOf, saidP } from '../../../words';

/** Does the answer hold? The same question under every way of allowing for position. */
export function PositionSection({ findings }: { findings: Findings }) {
  const { edge, light, gradient } = findings;
  const { unit } = findings.response;
  const ratio = isRatio(findings.scale);
  const plus = (difference: number) => (difference > 0 && !ratio ? '+' : '');
  const matrix = useMemo(() => positionMatrix(findings), [findings]);
  const differences = useMemo(() => sensitivityTable(findings), [findings]);
  const effect = (name: string, found: Effect, per: string, times = 1) => (
    <li>
      <strong>
        {name}: {plus(found.difference)}
        {saidDifference(findings, found.difference * times, {
          lower: found.lower * times,
          upper: found.upper * times,
        })}{' '}
        {per}
      </strong>{' '}
      ({percentOf(findings)} interval{' '}
      {saidInterval(findings, found.lower * times, found.upper * times)},{' '}
      {saidP(found.p, findings.alpha)})
    </li>
  );
  return (
    <FoldedPart title="Place" said={placeSummary(findings)} name="position">
      <div className="findings-pair">
        {edge ? <PlaceFigure findings={findings} draw={edgeFigure} testId="edge-figure" /> : null}
        {light ? (
          <PlaceFigure findings={findings} draw={lightFigure} testId="light-figure" />
        ) : null}
      </div>
      {edge || light ? (
        <p className="field-remark">
          Each dot is a pot beside the mean of its treatment; a line is what the model finds, with
          its {percentOf(findings)} interval.
        </p>
      ) : null}
      <TableView table={matrix} testId="position-matrix" />
      {matrix
        ? [...matrixWords(findings), anyModelWords()].map((text) => (
            <p key={text} className="field-remark">
              {text}
            </p>
          ))
        : null}
      <ul className="findings-effects">
        {edge ? (
          <li data-testid="edge-effect">
            <strong>
              Edge effect: {plus(edge.difference)}
              {saidDifference(findings, edge.difference, edge)}
            </strong>{' '}
            ({edgeMeansWords(edge, unit)}; {percentOf(findings)} interval{' '}
            {saidInterval(findings, edge.lower, edge.upper)}, {saidP(edge.p, findings.alpha)})
          </li>
        ) : null}
        {gradient ? effect('Towards the back', gradient.perRow, 'per row') : null}
        {gradient ? effect('To the right', gradient.perColumn, 'per column') : null}
        {light
          ? effect(
              findings.lightOverTrial ? 'More light over the trial' : 'More light',
              light,
              'per 10 µmol m⁻² s⁻¹',
              10,
            )
          : null}
      </ul>
      <Fold title="Figures" look="plain">
        {findings.design.tested.length > 0 ? (
          <PlaceFigure findings={findings} draw={sensitivityFigure} testId="position-figure" />
        ) : null}
        <TableView table={differences} testId="position-differences" />
        <TableView table={positionTable(findings)} testId="position-models" />
        <p className="field-remark">{criterionBasis(findings.scale)}</p>
        {findings.refused.map(({ model, reason }) => (
          <p key={model} className="field-remark">
            Not tried, {positionWords(findings)[model]}: {reason}.
          </p>
        ))}
      </Fold>
    </FoldedPart>
  );
}

/** One picture of place, drawn anew for other findings alone. */
function PlaceFigure(props: {
  findings: Findings;
  draw: (findings: Findings, size: FigureSize) => Figure | null;
  testId: string;
}) {
  const { findings, draw } = props;
  const own = useCallback((size: FigureSize) => draw(findings, size), [findings, draw]);
  return <FigureView draw={own} testId={props.testId} />;
}

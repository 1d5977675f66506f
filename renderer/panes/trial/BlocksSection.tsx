import { type Trial } from '../../../shared-types/trial/trial';
import { positionModels } from '../../../shared-types/trial/position';
import type { Plan } from '../../../shared-types/plan';
import { editTrial, setBlocks, setScheme } from '../../document/commands';
import { covariateCautionsOf, positionWordsOf, schemeFitsOf, type SchemeFit } from '../../derive';
import { gridLeftOut } from '../../engine/trial';
import { useDispatch, usePlanStore } from '../../store/context';
import { FieldRow, Fold, NumberField, Section, Select, SeverityMark } from '../../ui';
import { RuleFold } from '../shared/AnalysisRule';
import { BlockFiguresFold } from './BlockFiguresFold';
import { ConstraintFields } from './ConstraintFields';
import { blockOptions, blocksFor, schemeOptions } from './words';

/** Blocks and scheme, what they gain, and what a draw must meet. */
export function BlocksSection({ trial }: { trial: Trial }) {
  const plan = usePlanStore((s) => s.plan);
  const dispatch = useDispatch();
  if (!plan) return null;
  const { blocks } = trial;
  const drawn = trial.factors.some((factor) => factor.kind === 'randomised');
  const fits = drawn ? schemeFitsOf(plan) : [];
  const leftOut = gridLeftOut(trial);
  const own = fits.find((fit) => fit.scheme === trial.scheme);
  return (
    <Section title="Blocks and scheme" testId="blocks">
      <FieldRow>
        <Select
          label="Blocks"
          value={blocks.by}
          options={blockOptions(plan, blocks.by)}
          testId="blocks-by"
          onCommit={(by) => dispatch(setBlocks, { blocks: blocksFor(by) })}
        />
        {blocks.by === 'rows' || blocks.by === 'columns' ? (
          <NumberField
            label={`${blocks.by === 'rows' ? 'Rows' : 'Columns'} a block`}
            whole
            lowest={1}
            highest={200}
            value={blocks.perBlock}
            onCommit={(perBlock) => dispatch(setBlocks, { blocks: { by: blocks.by, perBlock } })}
          />
        ) : null}
        {blocks.by === 'light' ? (
          <NumberField
            label="Bands"
            whole
            lowest={2}
            highest={200}
            value={blocks.bands}
            onCommit={(bands) => dispatch(setBlocks, { blocks: { by: 'light', bands } })}
          />
        ) : null}
        <Select
          label="Scheme"
          value={trial.scheme}
          options={schemeOptions}
          testId="scheme"
          onCommit={(scheme) => dispatch(setScheme, { scheme })}
        />
      </FieldRow>
      {own?.misfit ? (
        <p className="field-problem" role="status">
          {own.misfit.text} {own.misfit.remedy}
        </p>
      ) : null}
      {leftOut && !own?.misfit ? (
        <p className="field-problem" role="status">
          {leftOut.text} {leftOut.remedy}
        </p>
      ) : null}
      <BlockFiguresFold plan={plan} />
      {fits.length > 0 ? <SchemeFits fits={fits} /> : null}
      {drawn ? <ConstraintFields plan={plan} constraint={trial.constraint} /> : null}
      <AnalysisFold plan={plan} trial={trial} />
    </Section>
  );
}

/** The model that will answer, chosen and fixed before the harvest. */
function AnalysisFold({ plan, trial }: { plan: Plan; trial: Trial }) {
  const dispatch = useDispatch();
  const words = positionWordsOf(plan);
  return (
    <RuleFold plan={plan} trial={trial} title="How it will be analysed" testId="analysis-fold">
      <FieldRow>
        <Select
          label="Correction for place"
          value={trial.primaryPosition}
          remark="The result rests on this one; the findings try the others beside it."
          options={positionModels.map((value) => ({ value, label: words[value] }))}
          onCommit={(primaryPosition) => dispatch(editTrial, { patch: { primaryPosition } })}
        />
        <NumberField
          label="Risk of a false alarm"
          value={trial.alpha}
          lowest={0.001}
          highest={0.5}
          step={0.01}
          onCommit={(alpha) => dispatch(editTrial, { patch: { alpha } })}
        />
      </FieldRow>
      {covariateCautionsOf(plan).map((caution) => (
        <p key={caution} className="field-remark">
          {caution}
        </p>
      ))}
    </RuleFold>
  );
}

/** Every scheme with the reason why it does not fit this rack and what would make it fit. */
function SchemeFits({ fits }: { fits: readonly SchemeFit[] }) {
  const fitting = fits.filter((fit) => fit.misfit === null).length;
  const nameOf = new Map<string, string>(schemeOptions.map(({ value, label }) => [value, label]));
  // Schemes that fail for one and the same reason are said in one breath.
  const groups = new Map<string, { schemes: string[]; misfit: SchemeFit['misfit'] }>();
  for (const { scheme, misfit } of fits) {
    const key = misfit ? misfit.text : '';
    const group = groups.get(key) ?? { schemes: [], misfit };
    group.schemes.push(scheme);
    groups.set(key, group);
  }
  return (
    <Fold title={`${fitting} of ${fits.length} schemes fit this rack`} testId="scheme-fits">
      <ul className="trial-fits">
        {[...groups.values()].map(({ schemes, misfit }) => (
          <li key={schemes.join()}>
            {misfit ? <SeverityMark severity="note" size={12} /> : null}{' '}
            <strong>{schemes.map((scheme) => nameOf.get(scheme)).join(', ')}</strong>
            {schemes.length > 1
              ? misfit
                ? ' do not fit'
                : ' fit'
              : misfit
                ? ' does not fit'
                : ' fits'}
            {misfit ? (
              <span>
                {misfit.text} {misfit.remedy}
              </span>
            ) : null}
          </li>
        ))}
      </ul>
    </Fold>
  );
}

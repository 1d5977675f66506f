import type { ComponentType } from 'react';
import type { Notice, Stage } from '../../../shared-types/notice';
import type { Plan } from '../../../shared-types/plan';
import type { RackLook } from '../../canvas';
import { bareOf, ringedThings } from '../../derive';
import type { FindingsOutcome } from '../../engine/findings';
import { ChartSide, useBlinded } from '../../panes/chart';
import {
  FindingsLegend,
  FindingsSide,
  findingsLook,
  racksChosen,
  racksOf,
  type RackShown,
} from '../../panes/findings';
import { FloodLegend, FloodSide, floodLook } from '../../panes/flood';
import { LayoutSide, layoutLook, TreatmentLegend } from '../../panes/layout';
import {
  LightLegend,
  lightLook,
  LightSide,
  placeReading,
  type LightShown,
} from '../../panes/light';
import { RackInspector, RackToolbar, ViewSwitch } from '../../panes/rack';
import { RecordsLegend, RecordsSide, recordsLook } from '../../panes/records';
import { anyBlindedSince, blindedSince } from '../../document/queries';
import { usePlanStore } from '../../store/context';
import { EmptyState } from '../../ui';
import { RackBeside } from './RackBeside';
import { TreatedSwitch } from '../../panes/shared/TreatedSwitch';
import { BlockLegend, blockLook, TrialSide } from '../../panes/trial';

/** What a stage puts around the rack, and how it looks at the rack. */
export interface StageView {
  Toolbar: ComponentType;
  Side: ComponentType;
  Legend: ComponentType | null;
  /** A second picture of the rack beside the first. */
  Beside?: ComponentType<{ notices: readonly Notice[] }>;
  width: 'narrow' | 'middle' | 'wide';
  /**
   * `light`: how much of the light the pictures of the light stage show. `blinded`: whoever prints
   * without treatments is shown none on the rack either. `rackShown`: what the rack beside the
   * findings is coloured by.
   */
  look: (
    plan: Plan,
    notices: readonly Notice[],
    outcome: FindingsOutcome | null,
    light: LightShown,
    blinded: boolean,
    rackShown: RackShown,
  ) => RackLook;
  /** A click of the tool `reading` on a shelf seen from above. */
  onPlace?: (shelfId: string, xMm: number, yMm: number) => void;
}

/** A rack as treated is looked at; only the one that is drawn can be changed. */
const asShown = (plan: Plan, look: RackLook): RackLook =>
  bareOf(plan) === plan ? look : { ...look, rack: plan.rack, editable: false };

const onRack = (plan: Plan, notices: readonly Notice[]): RackLook =>
  asShown(plan, {
    ...(bareOf(plan) !== plan && { potPaint: layoutLook(plan, notices).potPaint }),
    ringed: ringedThings(notices, 'rack'),
    editable: true,
  });

function ShownToolbar() {
  return (
    <div className="rack-toolbar">
      <ViewSwitch />
      <TreatedSwitch />
    </div>
  );
}

const blind = (_plan: Plan, notices: readonly Notice[]): RackLook => ({
  ringed: ringedThings(notices, 'chart'),
  editable: false,
});

function ChartLegend() {
  const locked = usePlanStore((s) => s.plan !== null && blindedSince(s.plan) !== null);
  return useBlinded() && !locked ? (
    <span>Blinded: the rack shows no treatments, as on the pages.</span>
  ) : (
    <TreatmentLegend />
  );
}

function FindingsKey() {
  const locked = usePlanStore((s) => s.plan !== null && anyBlindedSince(s.plan) !== null);
  return locked ? <TreatmentLegend /> : <FindingsLegend treatments={<TreatmentLegend />} />;
}

/** What differed would tell which treatment is which. */
function FindingsOrBlinded() {
  const since = usePlanStore((s) => s.plan && anyBlindedSince(s.plan));
  return since ? (
    <EmptyState title="Findings wait while the trial is blinded" actions={null}>
      They would tell which treatment is which. Open the blinding, with a reason, once all values
      are entered and looked at.
    </EmptyState>
  ) : (
    <FindingsSide />
  );
}

export const stageViews: Record<Stage, StageView> = {
  rack: { Toolbar: RackToolbar, Side: RackInspector, Legend: null, width: 'narrow', look: onRack },
  light: {
    Toolbar: ShownToolbar,
    Side: LightSide,
    Legend: LightLegend,
    width: 'middle',
    look: (plan, notices, _outcome, light) => asShown(plan, lightLook(plan, notices, light)),
    onPlace: placeReading,
  },
  flood: {
    Toolbar: ShownToolbar,
    Side: FloodSide,
    Legend: FloodLegend,
    width: 'wide',
    look: (plan, notices) => asShown(plan, floodLook(plan, notices)),
  },
  trial: {
    Toolbar: ViewSwitch,
    Side: TrialSide,
    Legend: BlockLegend,
    width: 'middle',
    look: blockLook,
  },
  layout: {
    Toolbar: ViewSwitch,
    Side: LayoutSide,
    Legend: TreatmentLegend,
    width: 'middle',
    look: (plan, notices) => asShown(plan, layoutLook(plan, notices)),
  },
  chart: {
    Toolbar: ViewSwitch,
    Side: ChartSide,
    Legend: ChartLegend,
    width: 'wide',
    look: (plan, notices, _outcome, _light, blinded) =>
      asShown(
        plan,
        blinded && blindedSince(plan) === null
          ? blind(plan, notices)
          : layoutLook(plan, notices, 'chart'),
      ),
  },
  records: {
    Toolbar: ViewSwitch,
    Side: RecordsSide,
    Legend: RecordsLegend,
    width: 'wide',
    look: (plan, notices) => asShown(plan, recordsLook(plan, notices)),
  },
  findings: {
    Toolbar: ViewSwitch,
    Side: FindingsOrBlinded,
    Beside: RackBeside,
    Legend: FindingsKey,
    width: 'wide',
    look: (plan, notices, outcome, _light, _blinded, rackShown) =>
      asShown(
        plan,
        anyBlindedSince(plan) !== null
          ? layoutLook(plan, notices, 'findings')
          : findingsLook(
              plan,
              notices,
              outcome,
              racksChosen(racksOf(plan, outcome), rackShown, 'none').first,
              layoutLook(plan, notices).potPaint ?? new Map(),
            ),
      ),
  },
};

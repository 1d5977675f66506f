import type { Plan } from '../../../shared-types/plan';
import { directLight, kwhPerDayOf, type LightCounted } from '../../derive';
import { useAsShown, usePlanStore } from '../../store';
import { Fold } from '../../ui';
import { AimFields } from './AimFields';
import { ArrangePanel } from './arrange/ArrangePanel';
import { EnergyPanel } from './EnergyPanel';
import { EvennessSection } from './EvennessSection';
import { HeightsTable } from './HeightsTable';
import { PotSection } from './PotSection';
import { ReadingsPanel } from './readings/ReadingsPanel';
import { RotationPanel } from './rota/RotationPanel';
import { SidesPanel } from './SidesPanel';
import { useShelfInQuestion } from './shelfInQuestion';
import './light.css';
import { figure, figures, fixed, plural } from '../../words';

/** How even the light is, and below it what can be changed, measured and tried. */
export function LightSide() {
  const shown = useAsShown(usePlanStore((s) => s.preview ?? s.plan));
  const plan = usePlanStore((s) => s.plan);
  const settled = useAsShown(plan);
  if (!shown || !plan || !settled) return null;
  const counted: LightCounted = shown === settled ? 'reflected' : directLight(settled);
  const lit = shown.rack.shelves.some((shelf) => shelf.lamps.length > 0);
  return (
    <>
      {lit ? (
        <>
          <PotSection plan={shown} counted={counted} />
          <EvennessSection plan={shown} counted={counted} />
        </>
      ) : (
        <p className="field-remark" data-testid="no-lamps">
          There are no lamps on the rack yet. Hang lamps in the rack stage to see the light.
        </p>
      )}
      <Folds plan={plan} shown={settled} />
    </>
  );
}

/** What is changed is the rack as drawn; figures are those of the rack as it is shown. */
function Folds({ plan, shown }: { plan: Plan; shown: Plan }) {
  const shelf = useShelfInQuestion(plan);
  const { light } = plan;
  const target = light.targetPpfdUmol;
  const lamps = plan.rack.shelves.some((s) => s.lamps.length > 0);
  const count = light.readings.length;
  const moves = light.rota?.length ?? 0;
  return (
    <>
      <Fold
        look="part"
        title="What the light should be"
        testId="fold-aim"
        startsOpen={!target}
        said={
          target
            ? `${fixed(target.lowest, 0)}–${fixed(target.highest, 0)} µmol m⁻² s⁻¹, ${figure(light.photoperiodHours, 4)} h a day`
            : undefined
        }
      >
        {() => <AimFields plan={plan} />}
      </Fold>
      {lamps ? (
        <Fold
          look="part"
          title="Planting and harvest"
          testId="fold-heights"
          said="two canopy heights"
        >
          {() => <HeightsTable plan={shown} />}
        </Fold>
      ) : null}
      {shelf ? (
        <>
          <Fold
            look="part"
            title="Hang the lamps better"
            testId="fold-arrange"
            said="before and after"
          >
            {() => <ArrangePanel key={shelf.id} plan={plan} shelf={shelf} />}
          </Fold>
          <Fold look="part" title="Reflecting sides" testId="fold-sides" said="open or white">
            {() => <SidesPanel key={shelf.id} plan={plan} shelf={shelf} />}
          </Fold>
          <Fold
            look="part"
            title="Meter readings"
            testId="fold-readings"
            said={count > 0 ? plural(count, 'reading') : 'none yet: all is estimated'}
          >
            {() => <ReadingsPanel plan={plan} />}
          </Fold>
          <Fold
            look="part"
            title="Moving the trays about"
            testId="fold-rotation"
            said={moves > 0 ? plural(moves, 'move') : 'no rota'}
            startsOpen={moves > 0}
          >
            {() => <RotationPanel plan={plan} />}
          </Fold>
        </>
      ) : null}
      {lamps ? (
        <Fold look="part" title="Electricity" testId="fold-energy" said={powerSaid(shown)}>
          {() => <EnergyPanel plan={shown} />}
        </Fold>
      ) : null}
    </>
  );
}

function powerSaid(plan: Plan): string | undefined {
  const kwh = kwhPerDayOf(plan);
  return kwh.ok ? `${figures(kwh.value)} kWh a day` : undefined;
}

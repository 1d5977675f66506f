import { bind } from '../../document';
import { letterOf, type Pot } from '../../engine/geometry';
import { toggleEmptyHoles, toggleGuards } from '../../document/commands';
import { usePlanStore, useSession } from '../../store';
import { Button, Facts, Section } from '../../ui';
import { useAct } from './useAct';
import { formatLength, type UnitSystem } from '../../words';

/** What is known of the selected pots, and whether they are guard pots. */
export function PotFields({ pots, lengths }: { pots: Pot[]; lengths: UnitSystem }) {
  const act = useAct();
  const select = useSession((s) => s.select);
  const rack = usePlanStore((s) => s.plan?.rack);
  const potIds = pots.map((pot) => pot.id);
  const guards = pots.filter((pot) => pot.guard).length;
  const grids = (rack?.shelves ?? []).flatMap((s) => s.trays);
  const byRing = pots.filter(
    (pot) => pot.onEdge && grids.find((t) => t.id === pot.trayId)?.grid?.guardRing === true,
  ).length;
  const [pot, ...more] = pots;
  const f = (mm: number) => formatLength(mm, lengths);
  return (
    <Section title={pot && more.length === 0 ? 'Pot' : 'Pots'}>
      {pot && more.length === 0 ? (
        <Facts
          rows={[
            ['Row', letterOf(pot.row)],
            ['Column', pot.column],
            ['From the shelf’s left', f(pot.xMm)],
            ['From the shelf’s front', f(pot.yMm)],
            ['From the tray’s side', f(pot.edgeDistanceMm)],
            ['Guard pot', pot.guard ? (byRing > 0 ? 'yes, in the ring' : 'yes') : 'no'],
          ]}
        />
      ) : (
        <Facts
          rows={[
            ['Pots', pots.length],
            ['Guard pots among them', guards],
          ]}
        />
      )}
      <div className="rack-buttons">
        <Button
          data-testid="pots-guard"
          disabled={byRing === pots.length}
          onClick={() => act(bind(toggleGuards, { potIds }))}
        >
          {guards === pots.length ? 'Make test pots' : 'Make guard pots'}
        </Button>
        <Button
          data-testid="pots-hole"
          onClick={() => {
            if (act(bind(toggleEmptyHoles, { potIds }))) select([]);
          }}
        >
          Leave empty
        </Button>
      </div>
    </Section>
  );
}

import { bind } from '../../document';
import type { PotGrid, Tray } from '../../../shared-types/rack';
import { gridFittedToTray, setGridIn } from '../../canvas';
import { fitPots, setGrid } from '../../document/commands';
import { usePlanStore, useSession } from '../../store';
import {
  Button,
  Checkbox,
  FieldList,
  Section,
  type FieldOf,
  type KeysOf,
  type UsualLength,
} from '../../ui';
import { PresetRow } from '../shared/presets/PresetRow';
import { shared, sharedValues } from './common';
import { useAct } from './useAct';
import type { UnitSystem } from '../../words';

interface TrayWithPots extends Tray {
  grid: PotGrid;
}

const hasPots = (tray: Tray): tray is TrayWithPots => tray.grid !== null;

const POTS: UsualLength = { of: 'Pots', fromMm: 15, toMm: 500 };
const PITCHES: UsualLength = { of: 'Pitches', fromMm: 15, toMm: 1000 };

const length = (
  key: KeysOf<PotGrid, number>,
  label: string,
  testId: string,
  lowestMm: number,
  usual?: UsualLength,
): FieldOf<PotGrid> => ({ as: 'length', key, label, testId, lowestMm, ...(usual && { usual }) });

const number = (key: KeysOf<PotGrid, number>, label: string): FieldOf<PotGrid> => ({
  as: 'number',
  key,
  label,
  testId: `pot-${key}`,
  whole: true,
  lowest: 1,
  highest: 200,
});

const POT: readonly FieldOf<PotGrid>[] = [
  length('potDiameterMm', 'Pot diameter', 'pot-diameter', 1, POTS),
  length('potHeightMm', 'Pot height', 'pot-height', 1, POTS),
  {
    as: 'choice',
    key: 'pattern',
    label: 'Rows stand',
    testId: 'pot-pattern',
    options: [
      { value: 'square', label: 'in line' },
      { value: 'staggered', label: 'staggered' },
    ],
  },
];

const ROWS: readonly FieldOf<PotGrid>[] = [
  number('columns', 'Columns'),
  number('rows', 'Rows'),
  length('pitchXMm', 'Pitch across', 'pitch-x', 1, PITCHES),
  length('pitchYMm', 'Pitch row to row', 'pitch-y', 1, PITCHES),
  length('firstXMm', 'First pot, from left', 'first-x', -20_000),
  length('firstYMm', 'First pot, from front', 'first-y', -20_000),
];

/** Rows and columns are entered alike whether the pitch is shared or each its own. */
export function GridFields({ trays, lengths }: { trays: Tray[]; lengths: UnitSystem }) {
  const act = useAct();
  const plan = usePlanStore((s) => s.plan);
  const potted = trays.filter(hasPots);
  const bare = trays.filter((tray) => tray.grid === null);
  const fill = () => {
    if (plan) act(bare.map((tray) => setGridIn(plan, tray, null)));
  };
  if (potted.length === 0) {
    return (
      <Section title="Pots">
        <p className="field-remark">
          {trays.length === 1 ? 'This tray is' : 'These trays are'} bare.
        </p>
        <div className="rack-buttons">
          <Button tone="primary" data-testid="add-pots" onClick={fill}>
            Fill with pots
          </Button>
        </div>
      </Section>
    );
  }
  const edit = (patch: Partial<PotGrid>) =>
    act(potted.map((tray) => bind(setGrid, { trayId: tray.id, grid: { ...tray.grid, ...patch } })));
  const fit = () =>
    act(
      potted.map((tray) => {
        const { guardRing, guards, empty } = tray.grid;
        const grid = { ...gridFittedToTray(tray, tray.grid), guardRing, guards, empty };
        return bind(setGrid, { trayId: tray.id, grid });
      }),
      { label: () => 'Fill tray with pots' },
    );
  const spread = () => act(bind(fitPots, { trayIds: potted.map(({ id }) => id) }));
  const clear = () => act(potted.map((tray) => bind(setGrid, { trayId: tray.id, grid: null })));
  const grid = sharedValues(potted.map((tray) => tray.grid));
  return (
    <>
      <Section
        title="Pots"
        actions={
          <>
            <Button
              title="The pitch at which these rows and columns fill the tray; where they do not fit, as many as do"
              data-testid="fit-pots"
              onClick={spread}
            >
              Fit to tray
            </Button>
            <Button
              title="As many pots at this pitch as stand inside the tray, centred"
              data-testid="fill-tray"
              onClick={fit}
            >
              Fill at this pitch
            </Button>
          </>
        }
      >
        <FieldList<PotGrid> of={grid} fields={POT} system={lengths} onChange={edit} />
        <PresetRow
          kind="pot"
          current={
            grid.potDiameterMm !== null && grid.potHeightMm !== null
              ? { potDiameterMm: grid.potDiameterMm, potHeightMm: grid.potHeightMm }
              : null
          }
          onTake={edit}
        />
        <FieldList<PotGrid> of={grid} fields={ROWS} system={lengths} onChange={edit} />
        {bare.length > 0 ? (
          <div className="rack-buttons">
            <Button onClick={fill}>Fill the bare trays too</Button>
          </div>
        ) : null}
        <div className="rack-buttons">
          <Button tone="danger" onClick={clear}>
            Take the pots out
          </Button>
        </div>
      </Section>
      <GuardFields trays={potted} edit={edit} />
    </>
  );
}

/** Guard ring by a tick, single guard pots and empty holes by clicking them on the shelf. */
function GuardFields(props: { trays: TrayWithPots[]; edit: (patch: Partial<PotGrid>) => void }) {
  const { trays, edit } = props;
  const tool = useSession((s) => s.tool);
  const takeTool = useSession((s) => s.takeTool);
  const view = useSession((s) => s.view);
  const setView = useSession((s) => s.setView);
  const showShelf = useSession((s) => s.showShelf);
  const rack = usePlanStore((s) => s.plan?.rack);
  const [first] = trays;
  const pick = (wanted: 'guard' | 'hole') => {
    const shelf = rack?.shelves.find((s) => s.trays.some((t) => t.id === first?.id));
    if (shelf) showShelf(shelf.id);
    // Holes are picked from above; among all shelves that goes as well.
    if (view === 'front') setView('above');
    takeTool(tool === wanted ? 'select' : wanted);
  };
  const picked = trays.reduce((sum, t) => sum + t.grid.guards.length, 0);
  const empty = trays.reduce((sum, t) => sum + t.grid.empty.length, 0);
  return (
    <Section title="Guard pots and empty holes">
      <Checkbox
        label="Pots of the outermost ring are guards"
        testId="guard-ring"
        checked={shared(trays, (t) => t.grid.guardRing)}
        onCommit={(guardRing) => edit({ guardRing })}
      />
      <p className="field-remark">
        {count(picked, 'pot')} picked by hand, {count(empty, 'hole')} left empty.
      </p>
      <div className="rack-buttons">
        <Button pressed={tool === 'guard'} onClick={() => pick('guard')}>
          Pick guard pots
        </Button>
        <Button pressed={tool === 'hole'} onClick={() => pick('hole')}>
          Pick empty holes
        </Button>
      </div>
    </Section>
  );
}

const count = (n: number, word: string) => `${n} ${word}${n === 1 ? '' : 's'}`;

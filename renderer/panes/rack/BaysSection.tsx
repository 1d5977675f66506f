import type { Shelf } from '../../../shared-types/rack';
import { boardDirections } from '../../../shared-types/rack';
import { boardEffectOf } from '../../derive';
import { bind } from '../../document';
import { addBoard, setBayHours } from '../../document/commands';
import { newBoard } from '../../document/new';
import { baysOf } from '../../engine/geometry';
import { usePlanStore } from '../../store';
import { Button, foundText, readNumberText, Section, TypedField } from '../../ui';
import { fieldNumber } from '../../words';
import { sayEffect } from './boardWords';
import { LampsInTheWay } from './lamps/LampsInTheWay';
import { useAct } from './useAct';

const WORDS = { across: 'Part left from right', lengthwise: 'Part front from back' } as const;

/** The bays of a shelf with their timers, and boards that make more of them. */
export function BaysSection({ shelf }: { shelf: Shelf }) {
  const act = useAct();
  const plan = usePlanStore((s) => s.plan);
  if (!plan) return null;
  const bays = baysOf(shelf);
  const ways = boardDirections.map((direction) => {
    const command = bind(addBoard, { shelfIds: [shelf.id], board: newBoard(shelf, direction) });
    return { direction, command, told: boardEffectOf(plan, command) };
  });
  return (
    <>
      <Section title="Bays and their timers" testId="bays">
        {bays.map(({ id, name, photoperiodHours }) => (
          <HoursField
            key={id}
            label={bays.length === 1 ? 'Light a day' : `Bay ${name}, light a day`}
            testId={`bay-hours-${name.replaceAll(' ', '-')}`}
            hours={photoperiodHours}
            common={plan.light.photoperiodHours}
            onCommit={(hours) => act(bind(setBayHours, { shelfId: shelf.id, bayId: id, hours }))}
          />
        ))}
        {ways.map(({ direction, command, told }) => (
          <div className="rack-buttons" key={direction}>
            <Button
              data-testid={`add-board-${direction}`}
              disabled={!told.ok}
              onClick={() => act(command, { select: true })}
            >
              {WORDS[direction]}
            </Button>
            <span className="field-remark">{told.ok ? sayEffect(told.effect) : told.reason}</span>
          </div>
        ))}
      </Section>
      <LampsInTheWay shelf={shelf} />
    </>
  );
}

/** The timer of one bay; an empty field goes by the light plan. */
function HoursField(props: {
  label: string;
  testId: string;
  hours: number | null;
  common: number;
  onCommit: (hours: number | null) => void;
}) {
  return (
    <TypedField<number | 'common'>
      label={props.label}
      value={props.hours ?? 'common'}
      numeric
      unit="h"
      testId={props.testId}
      placeholder={`${fieldNumber(props.common)} as all`}
      show={(v) => (v === 'common' ? '' : fieldNumber(v))}
      read={(text) => {
        if (text.trim() === '') return { ok: true, value: 'common' };
        const expected = `${foundText(text)}; 0 to 24 hours, or nothing, is expected.`;
        const read = readNumberText(text, 0.01);
        if (!read.ok) return { ok: false, expected: read.expected ?? expected };
        return read.value >= 0 && read.value <= 24
          ? { ok: true, value: read.value }
          : { ok: false, expected };
      }}
      onCommit={(v) => props.onCommit(v === 'common' ? null : v)}
    />
  );
}

import { useId, useLayoutEffect, useRef, useState, type KeyboardEvent } from 'react';
import { sayDay, spokenLocale } from '../../words';
import { Button } from '../Button';
import { today } from '../today';
import { daysAfter, monthName, monthsAfter, weekdays, weekOf, weeksOf } from './monthOf';

/** A button that opens a month to choose a day from; the week begins as on the computer. */
export function Calendar(props: {
  /** What the day is for, to name the button. */
  label: string;
  /** ISO 8601; '': none yet. */
  value: string;
  disabled?: boolean | undefined;
  testId?: string | undefined;
  onChoose: (day: string) => void;
}) {
  const id = useId();
  const popover = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  const [at, setAt] = useState<string | null>(null);
  const open = at !== null;
  // The keyboard goes with the day, but stays on the buttons that turn the month.
  const follows = useRef(false);
  const go = (day: string) => {
    follows.current = true;
    setAt(day);
  };
  useLayoutEffect(() => {
    if (!follows.current) return;
    follows.current = false;
    popover.current?.querySelector<HTMLElement>('.calendar-day[tabindex="0"]')?.focus();
  }, [at]);
  return (
    <>
      <button
        ref={button}
        type="button"
        className="button button-quiet calendar-button"
        aria-label={`${props.label}: choose from a calendar`}
        aria-expanded={open}
        disabled={props.disabled}
        data-testid={props.testId}
        popoverTarget={id}
      >
        <CalendarSign />
      </button>
      <div
        ref={popover}
        id={id}
        popover="auto"
        className="calendar"
        role="dialog"
        aria-label={props.label}
        onToggle={(event) => {
          if (event.newState !== 'open') return setAt(null);
          placeBeside(button.current, popover.current);
          go(props.value || today());
        }}
        onKeyDown={(event) => {
          // Closes the calendar alone.
          if (event.key === 'Escape') event.stopPropagation();
        }}
      >
        {at === null ? null : (
          <Month
            {...{ at, go, chosen: props.value }}
            turn={(months) => setAt(monthsAfter(at, months))}
            onChoose={(day) => {
              popover.current?.hidePopover();
              if (day !== props.value) props.onChoose(day);
            }}
          />
        )}
      </div>
    </>
  );
}

/** Under the button, or over it where there is no room; never past the window's edge. */
function placeBeside(button: HTMLElement | null, popover: HTMLElement | null): void {
  if (!button || !popover) return;
  const [at, own] = [button.getBoundingClientRect(), { width: 268, height: 300 }];
  const under = at.bottom + own.height < window.innerHeight;
  popover.style.left = `${Math.max(8, Math.min(at.right - own.width, window.innerWidth - own.width - 8))}px`;
  popover.style.top = under ? `${at.bottom + 4}px` : `${Math.max(8, at.top - own.height - 4)}px`;
}

function Month(props: {
  at: string;
  chosen: string;
  go: (day: string) => void;
  turn: (months: number) => void;
  onChoose: (day: string) => void;
}) {
  const { at, chosen, go, turn, onChoose } = props;
  const { weekStart } = spokenLocale();
  const days = weekdays(weekStart);
  const now = today();
  return (
    <>
      <div className="calendar-head">
        <Button tone="quiet" aria-label="The month before" onClick={() => turn(-1)}>
          ‹
        </Button>
        <strong aria-live="polite">{monthName(at)}</strong>
        <Button tone="quiet" aria-label="The next month" onClick={() => turn(1)}>
          ›
        </Button>
      </div>
      <table role="grid" aria-label={monthName(at)}>
        <thead>
          <tr>
            {days.map((day) => (
              <th key={day} scope="col" abbr={day}>
                {day.slice(0, 2)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody onKeyDown={(event) => onKeyDown(event, at, go)}>
          {weeksOf(at, weekStart).map((week) => (
            <tr key={week[0]}>
              {week.map((day) => (
                <td key={day} role="gridcell" aria-selected={day === chosen}>
                  <button
                    type="button"
                    className={dayClass(day, at, chosen)}
                    tabIndex={day === at ? 0 : -1}
                    aria-label={sayDay(day)}
                    aria-current={day === now ? 'date' : undefined}
                    onClick={() => onChoose(day)}
                  >
                    {Number(day.slice(8))}
                  </button>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <Button tone="quiet" className="calendar-today" onClick={() => onChoose(now)}>
        Today, {sayDay(now)}
      </Button>
    </>
  );
}

function dayClass(day: string, at: string, chosen: string): string {
  const other = day.slice(0, 7) === at.slice(0, 7) ? '' : ' is-other';
  return `calendar-day${other}${day === chosen ? ' is-chosen' : ''}`;
}

function onKeyDown(event: KeyboardEvent, at: string, go: (day: string) => void): void {
  const { weekStart } = spokenLocale();
  const first = weekOf(at, weekStart);
  const moves: Record<string, string> = {
    ArrowLeft: daysAfter(at, -1),
    ArrowRight: daysAfter(at, 1),
    ArrowUp: daysAfter(at, -7),
    ArrowDown: daysAfter(at, 7),
    Home: first,
    End: daysAfter(first, 6),
    PageUp: monthsAfter(at, -1),
    PageDown: monthsAfter(at, 1),
  };
  const to = moves[event.key];
  if (to === undefined) return;
  event.preventDefault();
  event.stopPropagation();
  go(to);
}

function CalendarSign() {
  return (
    <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
      <path
        d="M2.5,3.5h11v10h-11z M2.5,6.5h11 M5.5,2v3 M10.5,2v3"
        fill="none"
        stroke="currentColor"
        strokeWidth="1.3"
      />
      <path d="M5,9h2v2H5z" fill="currentColor" />
    </svg>
  );
}

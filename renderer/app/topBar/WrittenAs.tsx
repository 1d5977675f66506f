import {
  dayForms,
  decimalMarks,
  unitSystems,
  weekStarts,
  type DayForm,
  type DecimalMark,
  type LocaleChoice,
  type UnitSystem,
  type WeekStart,
} from '../../../shared-types/window/locale';
import { useSession } from '../../store/context';
import { Select } from '../../ui';

const decimalWords: Record<DecimalMark, string> = { '.': '2.5', ',': '2,5' };
const dayWords: Record<DayForm, string> = {
  iso: '2026-03-02',
  'day-first': '2 Mar 2026',
  'month-first': 'Mar 2, 2026',
};
const weekWords: Record<WeekStart, string> = {
  monday: 'Monday',
  sunday: 'Sunday',
  saturday: 'Saturday',
};

const unitWords: Record<UnitSystem, string> = { metric: 'metric', imperial: 'imperial' };

/** How numbers and days are written on this computer: as it has them, or as the person chooses. */
export function WrittenAs() {
  const usual = useSession((s) => s.usualHere);
  const choice = useSession((s) => s.localeChoice);
  const choose = useSession((s) => s.setLocaleChoice);
  const own = <K extends keyof LocaleChoice>(
    key: K,
    label: string,
    values: readonly (LocaleChoice[K] & string)[],
    words: Record<LocaleChoice[K] & string, string>,
  ) => (
    <Select<(LocaleChoice[K] & string) | 'computer'>
      label={label}
      value={choice[key] ?? 'computer'}
      testId={`written-${key}`}
      options={[
        { value: 'computer' as const, label: `as the computer: ${words[usual[key]]}` },
        ...values.map((value) => ({ value, label: words[value] })),
      ]}
      onCommit={(value) => {
        const { [key]: _before, ...others } = choice;
        choose(value === 'computer' ? others : { ...others, [key]: value });
      }}
    />
  );
  return (
    <div className="options-written">
      {own('decimal', 'Decimal sign', decimalMarks, decimalWords)}
      {own('days', 'Dates', dayForms, dayWords)}
      {own('weekStart', 'Week starts', weekStarts, weekWords)}
      {own('units', 'Units of new plans', unitSystems, unitWords)}
    </div>
  );
}

import { useState } from 'react';
import {
  quickUnitsOf,
  type QuickFactor,
  type QuickUnit,
} from '../../../shared-types/window/quickStart';
import { applications, applicationWords, unitWords } from '../../../shared-types/trial/trial';
import { readLevels, readQuestion, saySettings, throughOf } from '../../document/quickStart';
import { Button, Section, Select, TextField, TypedField } from '../../ui';
import { list, type UnitSystem } from '../../words';
import { ProblemAt, type QuickPart } from './ProblemAt';

/** What is compared: a sentence that becomes lines, and one line a factor. */
export function FactorRows(part: QuickPart) {
  const { answers, onChange } = part;
  const { factors } = answers;
  const [unread, setUnread] = useState<readonly string[]>([]);
  const set = (at: number, factor: QuickFactor) =>
    onChange({ factors: factors.map((one, i) => (i === at ? factor : one)) });
  const ask = (question: string) => {
    const read = readQuestion(question);
    setUnread(read.unread);
    const known = (name: string) => factors.find((one) => one.name === name);
    const added = read.factors.filter(({ name }) => !known(name));
    onChange({ question, factors: [...factors, ...added] });
  };
  return (
    <Section title="Your question" testId="quick-question">
      <TextField
        label="What do you compare?"
        mayBeEmpty
        longest={400}
        value={answers.question}
        placeholder="two lights, three media, two kinds of plant"
        testId="quick-sentence"
        remark={
          unread.length > 0
            ? `Not understood: ${list(unread.map((one) => `“${one}”`))}. Type a number and a thing, such as “two lights”, or add a line.`
            : undefined
        }
        onCommit={ask}
      />
      {factors.length > 0 ? (
        <div className="quick-factors" data-fields="factors">
          {factors.map((factor, i) => (
            <FactorRow
              // A line keeps its fields while its name is typed over.
              key={i}
              factor={factor}
              tray={answers.vessel}
              lengths={part.lengths}
              onChange={(next) => set(i, next)}
              onRemove={() => onChange({ factors: factors.filter((one) => one !== factor) })}
            />
          ))}
        </div>
      ) : null}
      <ProblemAt {...part} field="factors" />
      <div className="section-actions">
        <Button
          data-testid="quick-add-factor"
          onClick={() => onChange({ factors: [...factors, anotherFactor(factors)] })}
        >
          + something else
        </Button>
      </div>
    </Section>
  );
}

function FactorRow(props: {
  factor: QuickFactor;
  tray: string;
  lengths: UnitSystem;
  onChange: (factor: QuickFactor) => void;
  onRemove: () => void;
}) {
  const { factor, onChange } = props;
  const { name, levels, through, unit } = factor;
  const settings = saySettings(factor, props.lengths);
  return (
    <fieldset className="quick-factor card">
      <legend className="visually-hidden">{name}</legend>
      <TextField
        label="Compared"
        value={name}
        onCommit={(next) => onChange(renamed(factor, next))}
      />
      <TypedField
        label="Levels, with commas"
        value={levels}
        show={(all) => all.join(', ')}
        read={(text) => {
          const read = readLevels(text);
          return read.length > 0
            ? { ok: true, value: read }
            : {
                ok: false,
                expected: 'Names with commas between are expected, such as bright, dim.',
              };
        }}
        remark={settings === '' ? undefined : settings}
        onCommit={(next) => onChange({ ...factor, levels: next })}
      />
      <Select
        label="Applied through"
        value={through}
        options={applications.map((value) => ({ value, label: applicationWords[value] }))}
        onCommit={(next) =>
          onChange({ ...factor, through: next, unit: quickUnitsOf[next][0] ?? 'pot' })
        }
      />
      <Select
        label="Own for each"
        value={unit}
        options={quickUnitsOf[through].map((value) => ({
          value,
          label: sayUnit(value, through === 'water', props.tray),
        }))}
        onCommit={(next) => onChange({ ...factor, unit: next })}
      />
      <Button tone="quiet" aria-label={`Remove ${name}`} onClick={props.onRemove}>
        ✕
      </Button>
    </fieldset>
  );
}

function sayUnit(unit: QuickUnit, water: boolean, tray: string): string {
  const one = unit === 'tray' ? tray : unitWords[unit].one;
  if (unit === 'zone') return 'level, one reservoir';
  return water ? `${one}, own reservoir` : one;
}

/** A new name brings what it suggests as long as nothing else was chosen for the old one. */
function renamed(factor: QuickFactor, name: string): QuickFactor {
  const usual = factor.through === throughOf(factor.name);
  const through = usual ? throughOf(name) : factor.through;
  const unit = through === factor.through ? factor.unit : (quickUnitsOf[through][0] ?? 'pot');
  const levels = factor.levels.map((level) =>
    level.replace(new RegExp(`^${escaped(factor.name)} (\\d+)$`), `${name} $1`),
  );
  return { name, levels, through, unit };
}

const escaped = (text: string): string => text.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);

function anotherFactor(factors: readonly QuickFactor[]): QuickFactor {
  const taken = new Set(factors.map(({ name }) => name));
  let number = factors.length + 1;
  while (taken.has(`factor ${number}`)) number++;
  const name = `factor ${number}`;
  return { name, levels: [`${name} 1`, `${name} 2`], through: 'hand', unit: 'pot' };
}

import { useState } from 'react';
import {
  presetWords,
  type PresetKind,
  type PresetValue,
} from '../../../../shared-types/window/presets';
import { useKept } from '../../../store/context';
import { Button, Select } from '../../../ui';
import { presetNameOf, PRESETS, withoutPreset, withPreset } from './presets';
import './presets.css';

/** Own things of one kind to take again, and a way to keep the one at hand. null: several at hand differ. */
export function PresetRow<K extends PresetKind>(props: {
  kind: K;
  current: PresetValue<K> | null;
  onTake: (value: PresetValue<K>) => void;
}) {
  const { kind, current } = props;
  const [presets, keep] = useKept(PRESETS);
  const [naming, setNaming] = useState(false);
  const own = presets[kind];
  const name = current && presetNameOf(presets, kind, current);
  const { one, many } = presetWords[kind];
  return (
    <div className="preset-row" data-testid={`presets-${kind}`}>
      {own.length > 0 ? (
        <Select
          label={`Own ${many}`}
          value={name ?? ''}
          options={[
            { value: '', label: 'choose…', disabled: true },
            ...own.map((preset) => ({ value: preset.name, label: preset.name })),
          ]}
          testId={`own-${kind}`}
          onCommit={(chosen) => {
            const preset = own.find((each) => each.name === chosen);
            if (preset) props.onTake(preset.value);
          }}
        />
      ) : null}
      {name !== null ? (
        <Button
          tone="quiet"
          aria-label={`Forget own ${one} ${name}`}
          onClick={() => keep(withoutPreset(presets, kind, name))}
        >
          Forget
        </Button>
      ) : current && !naming ? (
        <Button tone="quiet" data-testid={`keep-${kind}`} onClick={() => setNaming(true)}>
          Keep {one} as preset
        </Button>
      ) : null}
      {naming && current ? (
        <PresetName
          one={one}
          testId={`name-${kind}`}
          onCancel={() => setNaming(false)}
          onGive={(given) => {
            keep(withPreset(presets, kind, { name: given, value: current }));
            setNaming(false);
          }}
        />
      ) : null}
    </div>
  );
}

function PresetName(props: {
  one: string;
  testId: string;
  onGive: (name: string) => void;
  onCancel: () => void;
}) {
  const [text, setText] = useState('');
  return (
    <form
      className="preset-name"
      onSubmit={(event) => {
        event.preventDefault();
        const name = text.trim();
        if (name !== '') props.onGive(name);
      }}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        props.onCancel();
      }}
    >
      <input
        className="input"
        aria-label={`Name of the ${props.one}`}
        placeholder={`name of the ${props.one}`}
        maxLength={120}
        // Asked for by the button that it takes the place of.
        autoFocus
        autoComplete="off"
        data-testid={props.testId}
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
      <Button type="submit" disabled={text.trim() === ''}>
        Keep
      </Button>
    </form>
  );
}

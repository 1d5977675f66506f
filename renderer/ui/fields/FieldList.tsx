import type { ReactNode } from 'react';
import { rounded, type Quantity, type UnitSystem } from '../../words';
import { Select, TextField } from './fields';
import { LengthField, NumberField, type UsualLength } from './numberFields';
import { QuantityField } from './QuantityField';

/** The keys of T under which values of a type are kept. */
export type KeysOf<T, V> = { [K in keyof T & string]: T[K] extends V ? K : never }[keyof T &
  string];

type Choice<T> = {
  [K in KeysOf<T, string>]: {
    as: 'choice';
    key: K;
    options: readonly { value: T[K] & string; label: string }[];
  };
}[KeysOf<T, string>];

/** How one value of a thing is shown and typed; `null` stands for values that differ. */
export type FieldOf<T> = { label: string; remark?: string; testId?: string } & (
  | {
      as: 'number';
      key: KeysOf<T, number | null>;
      unit?: string;
      lowest?: number;
      highest?: number;
      step?: number;
      decimals?: number;
      whole?: boolean;
    }
  /** A share, 0 to 1 at most, shown in per cent. */
  | {
      as: 'share';
      key: KeysOf<T, number | null>;
      highest?: number;
      stepPercent?: number;
      decimals?: number;
    }
  | {
      as: 'length';
      key: KeysOf<T, number | null>;
      lowestMm?: number;
      highestMm?: number;
      usual?: UsualLength;
    }
  | {
      as: 'quantity';
      key: KeysOf<T, number>;
      quantity: Quantity;
      per?: string;
      lowest: number;
      highest: number;
      step?: number;
    }
  | { as: 'text'; key: KeysOf<T, string | null>; longest?: number; mayBeEmpty?: boolean }
  | Choice<T>
);

/** The values of one thing, or of several: `null` where those differ. */
export type ValuesOf<T> = { readonly [K in keyof T]: T[K] | null };

/** A row of fields for the values of one thing, told as data; what is typed comes as a patch of it. */
export function FieldList<T>(props: {
  of: ValuesOf<T>;
  fields: readonly FieldOf<T>[];
  system: UnitSystem;
  onChange: (patch: Partial<T>) => void;
  className?: string;
  testId?: string;
  /** What stands after the fields, such as a button to remove the thing. */
  children?: ReactNode;
}) {
  return (
    <div className={props.className ?? 'field-row'} data-testid={props.testId}>
      {props.fields.map((field) => (
        <OneField
          key={field.key}
          of={props.of}
          field={field}
          system={props.system}
          onChange={props.onChange}
        />
      ))}
      {props.children}
    </div>
  );
}

function OneField<T>(props: {
  of: ValuesOf<T>;
  field: FieldOf<T>;
  system: UnitSystem;
  onChange: (patch: Partial<T>) => void;
}) {
  const { field, system } = props;
  const value: unknown = props.of[field.key];
  const number = typeof value === 'number' ? value : null;
  const text = typeof value === 'string' ? value : null;
  const set = (next: unknown) => {
    const patch: Partial<T> = {};
    patch[field.key as keyof T] = next as T[keyof T];
    props.onChange(patch);
  };
  switch (field.as) {
    case 'number':
      return <NumberField {...field} key={field.key} value={number} onCommit={set} />;
    case 'share':
      return (
        <NumberField
          {...field}
          key={field.key}
          unit="%"
          lowest={0}
          highest={100 * (field.highest ?? 1)}
          step={field.stepPercent}
          value={number === null ? null : number * 100}
          onCommit={(percent) => set(rounded(percent / 100, 8))}
        />
      );
    case 'length':
      return (
        <LengthField {...field} key={field.key} system={system} valueMm={number} onCommit={set} />
      );
    case 'quantity':
      return (
        <QuantityField
          {...field}
          key={field.key}
          system={system}
          value={number ?? 0}
          onCommit={set}
        />
      );
    case 'text':
      return <TextField {...field} key={field.key} value={text} onCommit={set} />;
    case 'choice':
      return <Select<string> {...field} key={field.key} value={text} onCommit={set} />;
  }
}

import { Refusal } from '../../words';

/** A mass or area whose logarithm is taken. */
export function requirePositive(where: string, name: string, value: number): void {
  if (!(value > 0 && value < Infinity)) {
    throw new Refusal(`${where}: ${name} is ${value}; expected a finite number above 0`);
  }
}

export function requireFinite(where: string, name: string, value: number): void {
  if (!Number.isFinite(value)) {
    throw new Refusal(`${where}: ${name} is ${value}; expected a finite number`);
  }
}

import { Refusal } from '../words';

/** Refuses a value that is not above 0; `where` names the function that was asked. */
export function requirePositive(where: string, name: string, value: number): void {
  if (!(value > 0)) throw new Refusal(`${where}: ${name} is ${value}; expected a number above 0`);
}

export function requireFinite(where: string, name: string, value: number): void {
  if (!Number.isFinite(value)) {
    throw new Refusal(`${where}: ${name} is ${value}; expected a finite number`);
  }
}

/** A mass or area whose logarithm is taken. */
export function requireQuantity(where: string, name: string, value: number): void {
  if (!(value > 0 && value < Infinity)) {
    throw new Refusal(`${where}: ${name} is ${value}; expected a finite number above 0`);
  }
}

import { Refusal } from '../../words';

/**
 * Daily light integral (mol m⁻² d⁻¹) of a PPFD (µmol m⁻² s⁻¹) kept for `hours` a day:
 * PPFD · 3600 · hours · 10⁻⁶ (ANSI/ASABE S640).
 */
export function dli(ppfdUmol: number, hours: number): number {
  if (!(ppfdUmol >= 0)) throw new Refusal(`PPFD ${ppfdUmol}: zero or more is expected`);
  if (!(hours >= 0 && hours <= 24)) {
    throw new Refusal(`photoperiod ${hours} h: 0 to 24 hours is expected`);
  }
  return ppfdUmol * 3600 * hours * 1e-6;
}

/** PPFD (µmol m⁻² s⁻¹) that gives a daily light integral (mol m⁻² d⁻¹) in `hours` a day. */
export function ppfdForDli(dliMol: number, hours: number): number {
  if (!(dliMol >= 0)) throw new Refusal(`DLI ${dliMol}: zero or more is expected`);
  if (!(hours > 0 && hours <= 24)) {
    throw new Refusal(`photoperiod ${hours} h: more than 0 and at most 24 hours is expected`);
  }
  return dliMol / (3600 * hours * 1e-6);
}

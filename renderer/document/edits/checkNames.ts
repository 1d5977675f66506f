import { Refusal } from '../command';
import type { Factor, Trial } from '../../../shared-types/trial/trial';

const plain = (name: string) => name.trim().toLowerCase();

/** Refuses a name that another factor has: it becomes a column of tables. */
export function checkFactorName(trial: Trial, name: string, ownId?: string): void {
  if (plain(name) === '') throw new Refusal('A factor needs a name.');
  if (trial.factors.some((other) => other.id !== ownId && plain(other.name) === plain(name))) {
    throw new Refusal(`The trial has a factor ${name.trim()} already.`);
  }
}

/** Refuses a name that another level of the factor has. */
export function checkLevelName(factor: Factor, name: string, ownId?: string): void {
  if (plain(name) === '') throw new Refusal('A level needs a name.');
  if (factor.levels.some((other) => other.id !== ownId && plain(other.name) === plain(name))) {
    throw new Refusal(`The factor ${factor.name} has a level ${name.trim()} already.`);
  }
}

import type { FitRequest } from '../../../../shared-types/fit';
import { Refusal } from '../../../words';
import { num } from '../../entry';

export type TermRole = 'block' | 'covariate' | 'position' | 'treatment';

/** What a term crosses: factors by level, covariates by value. */
export interface TermOutline {
  readonly name: string;
  readonly role: TermRole;
  readonly factors: readonly string[];
  readonly covariates: readonly string[];
}

/** Names of what a position model adds to the fixed part. */
export interface PositionNames {
  readonly factors: readonly string[];
  readonly covariates: readonly string[];
}

export function crossedName(parts: readonly string[]): string {
  return parts.join(' × ');
}

/**
 * The terms of a request in the order they enter the model: blocks, covariates, position,
 * treatments, their interactions by order, covariate interactions.
 *
 * A listed interaction brings the lower ones it contains (a three-way interaction without its
 * two-way ones means nothing that survives a renaming of levels); each one brought is a warning.
 */
export function listTerms(
  request: FitRequest,
  position: PositionNames,
): { terms: TermOutline[]; warnings: string[] } {
  const warnings: string[] = [];
  const terms: TermOutline[] = [
    ...request.fixedBlocks.map((name) => factorTerm(name, 'block')),
    ...request.covariates.map((name) => covariateTerm(name, 'covariate')),
    ...position.factors.map((name) => factorTerm(name, 'position')),
    ...position.covariates.map((name) => covariateTerm(name, 'position')),
    ...request.treatments.map((name) => factorTerm(name, 'treatment')),
  ];
  for (const names of treatmentInteractions(request, warnings)) {
    terms.push({ name: crossedName(names), role: 'treatment', factors: names, covariates: [] });
  }
  for (const names of covariateInteractions(request, terms, warnings)) {
    const covariates = names.filter((name) => request.covariates.includes(name));
    terms.push({
      name: crossedName(names),
      role: 'covariate',
      factors: names.filter((name) => !covariates.includes(name)),
      covariates,
    });
  }
  return { terms, warnings };
}

function factorTerm(name: string, role: TermRole): TermOutline {
  return { name, role, factors: [name], covariates: [] };
}

function covariateTerm(name: string, role: TermRole): TermOutline {
  return { name, role, factors: [], covariates: [name] };
}

function treatmentInteractions(request: FitRequest, warnings: string[]): string[][] {
  const { treatments, interactions } = request;
  if (interactions === 'none') return [];
  if (interactions === 'all') return subsets(treatments).filter((names) => names.length > 1);
  for (const names of interactions) {
    checkDistinct(names, 'interactions');
    for (const name of names) {
      if (!treatments.includes(name)) {
        throw new Refusal(
          `interactions: found "${name}"; expected names among the treatments ` +
            `(${treatments.join(', ')})`,
        );
      }
    }
  }
  return closeDownwards(interactions, [], warnings);
}

function covariateInteractions(
  request: FitRequest,
  terms: readonly TermOutline[],
  warnings: string[],
): string[][] {
  const known = [...request.covariates, ...request.treatments, ...request.fixedBlocks];
  for (const names of request.covariateInteractions) {
    checkDistinct(names, 'covariateInteractions');
    for (const name of names) {
      if (!known.includes(name)) {
        throw new Refusal(
          `covariateInteractions: found "${name}"; expected a covariate, treatment or fixed ` +
            `block of the request (${known.join(', ')})`,
        );
      }
    }
    if (!names.some((name) => request.covariates.includes(name))) {
      throw new Refusal(
        `covariateInteractions: found ${crossedName(names)} without a covariate; expected at ` +
          `least one of ${request.covariates.join(', ') || 'the covariates, none is named'}`,
      );
    }
  }
  const present = terms.map((term) => [...term.factors, ...term.covariates]);
  return closeDownwards(request.covariateInteractions, present, warnings);
}

function checkDistinct(names: readonly string[], place: string): void {
  if (new Set(names).size !== names.length) {
    throw new Refusal(`${place}: ${crossedName(names)} names a column twice; expected it once`);
  }
}

/** The listed sets and every smaller crossing they contain that is not present, by order. */
function closeDownwards(
  listed: readonly (readonly string[])[],
  present: readonly (readonly string[])[],
  warnings: string[],
): string[][] {
  const has = (sets: readonly (readonly string[])[], names: readonly string[]): boolean =>
    sets.some((set) => sameNames(set, names));
  const closed: string[][] = [];
  for (const names of listed) if (!has(closed, names)) closed.push([...names]);
  for (const names of listed) {
    for (const part of subsets(names)) {
      if (part.length < 2 || has(closed, part) || has(present, part)) continue;
      closed.push(part);
      warnings.push(
        `${crossedName(part)} was added, because ${crossedName(names)} cannot be read without it.`,
      );
    }
  }
  return closed.sort((a, b) => a.length - b.length);
}

export function sameNames(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((name) => b.includes(name));
}

/** Their crossings are 4,095; with every factor more they double. */
const MOST_CROSSED = 12;

/** Non-empty subsets, smaller ones first, each in the order of the names. */
function subsets(names: readonly string[]): string[][] {
  if (names.length > MOST_CROSSED) {
    throw new Refusal(
      `interactions: found all of ${names.length} factors; those of at most ${MOST_CROSSED} are expected, or a list`,
    );
  }
  let sets: string[][] = [[]];
  for (const name of names) sets = [...sets, ...sets.map((set) => [...set, name])];
  const rank = (set: string[]): number[] => set.map((name) => names.indexOf(name));
  return sets
    .filter((set) => set.length > 0)
    .sort((a, b) => a.length - b.length || compareRanks(rank(a), rank(b)));
}

function compareRanks(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) {
    const difference = num(a, i) - num(b, i);
    if (difference !== 0) return difference;
  }
  return 0;
}

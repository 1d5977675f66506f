import {
  unitWords,
  type Application,
  type Factor,
  type Trial,
} from '../../../shared-types/trial/trial';
import { positionTakes } from '../../../shared-types/trial/position';
import { list } from '../../words';

/** Whether a treatment given this way changes the water that stands at a pot. */
const changesDepth: Record<Application, boolean> = {
  light: false,
  water: true,
  // It takes up water, and displaces it.
  medium: true,
  plant: false,
  hand: false,
};

/** A factor on a whole place may be its light, as long as nobody said what it is applied through. */
const mayBeLight = ({ appliedThrough, unit }: Factor): boolean =>
  appliedThrough === undefined && (unit === 'shelf' || unit === 'bay');

/**
 * What must be said where the analysis allows for something that a treatment can change: such a
 * covariate takes a part of the effect away.
 */
export function covariateCautions(
  trial: Pick<Trial, 'factors' | 'primaryPosition' | 'wetDepthCovariate'>,
  /** Whether the light follows canopy heights that were typed for trays as they will have grown. */
  lightByTypedHeights = false,
): string[] {
  const { factors, primaryPosition, wetDepthCovariate } = trial;
  const cautions: string[] = [];
  const lit = factors.filter(mayBeLight);
  if (positionTakes[primaryPosition] === 'light' && lit.length > 0) {
    const [{ unit }] = lit as [Factor];
    cautions.push(
      `If ${named(lit)} sets the light, allowing for light takes its effect away. Say what it is applied through: then only differences within each ${unitWords[unit].one} count.`,
    );
  }
  const grown = factors.filter(
    ({ unit, appliedThrough }) => unit !== 'pot' && appliedThrough !== 'light',
  );
  if (positionTakes[primaryPosition] === 'light' && lightByTypedHeights && grown.length > 0) {
    cautions.push(
      `The light follows the canopy heights that are typed for trays. If ${named(grown)} made plants taller, allowing for light takes a part of its effect away. Tell the light at planting, or give all trays one height.`,
    );
  }
  const wet = factors.filter(
    ({ appliedThrough }) => appliedThrough !== undefined && changesDepth[appliedThrough],
  );
  if (wetDepthCovariate && wet.length > 0) {
    cautions.push(
      `${named(wet)} may change how deep the water stands. Allowing for the depth may then take a part of its effect away.`,
    );
  }
  return cautions;
}

const named = (factors: readonly Factor[]): string => list(factors.map(({ name }) => name));

import type { Factor } from '../../../../shared-types/trial/trial';
import type { Block } from '../input';
import { misfit } from './misfit';
import type { Misfit } from './misfit';
import type { Site } from '../site/site';
import { linesOf, stripsPerBlock } from '../blocks/strips';
import { unitWords } from '../../../../shared-types/trial/trial';
import { list } from '../../../words';

export const onStrips = (factor: Factor): boolean =>
  factor.unit === 'row-strip' || factor.unit === 'column-strip';

/** Why factors and blocks don't make a strip plot, before the size of its strips is looked at. */
export function stripMisfits(site: Site): Misfit[] {
  const { trial } = site;
  const drawn = trial.factors.filter((factor) => factor.kind === 'randomised');
  const given = trial.factors.find((factor) => factor.kind === 'fixed' && onStrips(factor));
  if (given) {
    return [
      misfit(
        `${given.name} is fixed by you on strips, but only the draw decides where strips run.`,
        `Let the draw assign ${given.name}, or say its level by shelf, tray or pot.`,
      ),
    ];
  }
  const crosses = (['row-strip', 'column-strip'] as const).every((unit) =>
    drawn.some((factor) => factor.unit === unit),
  );
  if (!crosses) {
    return [
      misfit(
        'A strip plot needs one factor on strips of rows and another on strips of columns, both shuffled.',
        'Lay one factor on strips of rows and one on strips of columns, or choose another scheme.',
      ),
    ];
  }
  const wide = drawn.filter((factor) => factor.unit === 'shelf' || factor.unit === 'tray');
  if (wide.length > 0) {
    return [
      misfit(
        `${list(wide.map((f) => f.name))} ${wide.length === 1 ? 'sits' : 'sit'} on whole trays or shelves, which a strip plot does not draw: each of its blocks holds every treatment.`,
        'Give strips or pots a treatment of their own, or choose a split plot without strips.',
      ),
    ];
  }
  if (site.blocks.length < 2) {
    return [
      misfit(
        `A strip plot judges strips by how they differ from block to block, and the plan has only ${site.blocks.length === 1 ? 'one block' : 'no blocks'}.`,
        'Choose trays, or halves or quarters of trays, as blocks, so that there are several.',
      ),
    ];
  }
  return site.blocks.flatMap((block) => blockMisfit(site, block)).slice(0, 1);
}

function blockMisfit(site: Site, block: Block): Misfit[] {
  const own = new Set(block.potIds);
  const pots = site.pots.filter((pot) => own.has(pot.id));
  const rows = linesOf(pots, 'row-strip');
  const columns = linesOf(pots, 'column-strip');
  const trays = new Set(pots.map((pot) => pot.trayId));
  if (trays.size > 1 || rows.length * columns.length !== pots.length) {
    return [
      misfit(
        trays.size > 1
          ? `${block.name} reaches over ${trays.size} trays; strips run through the rows and columns of one tray.`
          : `${block.name}: its pots do not fill a rectangle of rows and columns, so that strips can't run through it.`,
        trays.size > 1
          ? 'Choose trays, or halves or quarters of trays, as blocks.'
          : 'Fill or leave out whole rows and columns, or choose other blocks.',
      ),
    ];
  }
  for (const [unit, lines, what] of [
    ['row-strip', rows.length, 'rows'],
    ['column-strip', columns.length, 'columns'],
  ] as const) {
    const count = stripsPerBlock(site.trial, unit);
    if (lines % count === 0) continue;
    const less = lines - (lines % count);
    const would = less > 0 ? `${less} or ${less + count}` : String(count);
    return [
      misfit(
        `${block.name} has ${lines} ${what} of pots, which do not part into ${count} strips of equal width.`,
        `Use ${would} ${what} (guard pots can trim them), or change the number of levels on ${unitWords[unit].many}.`,
      ),
    ];
  }
  return [];
}

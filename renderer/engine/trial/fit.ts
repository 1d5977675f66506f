import type { NoticeKind } from '../../../shared-types/notice';
import type { Factor } from '../../../shared-types/trial';
import type { Block } from './blocks';
import { reachableCap } from './constraint/prepared';
import { gridOf } from './schemes/grid';
import { givenLevels, schemeUsesBlocks, unitIdOf } from './site';
import type { Site, Tier } from './site';
import { linesOf, stripsPerBlock } from './strips';
import { counted, figure, nameList, schemeWords, treatmentsInWords, unitWords } from './words';

/** A reason why the layout can't be drawn as the plan says. */
export interface Misfit {
  kind: NoticeKind;
  about: string[];
  text: string;
  remedy: string;
}

/** Everything that keeps the trial's scheme from being drawn on this rack; [] when it fits. */
export function misfitsOf(site: Site): Misfit[] {
  const { trial, pots } = site;
  if (trial.factors.length === 0) return [];
  if (pots.length === 0) {
    return [
      {
        kind: 'too-few-pots',
        about: ['plan'],
        text: 'The rack holds no measured pot: there is nothing to give a treatment to.',
        remedy: 'Give at least one tray a pot grid with pots that are not guard pots.',
      },
    ];
  }
  const misfits = [...givenGaps(site), ...lightMisfits(site), ...tierMisfits(site)];
  if (misfits.length === 0) for (const tier of site.tiers) misfits.push(...sizeMisfits(site, tier));
  return misfits.length === 0 ? capMisfits(site) : misfits;
}

/** A cap on like neighbours that no arrangement keeps, as far as a search can tell. */
function capMisfits(site: Site): Misfit[] {
  const wanted = site.trial.constraint.likeNeighbours;
  const tier = site.tiers.find((one) => one.unit === 'pot');
  if (wanted === null || !tier) return [];
  const reached = reachableCap(site, tier, wanted);
  if (reached === wanted) return [];
  const most = `at most ${wanted} ${wanted === 1 ? 'pot' : 'pots'} of one treatment side by side`;
  return [
    misfit(
      `No arrangement with ${most} was found for ${treatmentsInWords(tier)} under this scheme; the least that was reached is ${reached}.`,
      `Allow ${reached} like neighbours, or use blocks or levels that bring more different treatments together.`,
      ['plan', ...tier.factors.map((factor) => `factor:${factor.id}`)],
    ),
  ];
}

function misfit(text: string, remedy: string, about: string[] = ['plan']): Misfit {
  return { kind: 'scheme-does-not-fit', about, text, remedy };
}

/** Bands of a light that is the same everywhere. */
function lightMisfits(site: Site): Misfit[] {
  const { trial, ppfd } = site;
  const [first] = ppfd ?? [];
  if (trial.blocks.by !== 'light' || !schemeUsesBlocks(trial.scheme) || first === undefined) {
    return [];
  }
  if (ppfd?.some((light) => light !== first)) return [];
  return [
    misfit(
      `The blocks follow the light, but it is the same at every measured pot, ${figure(first)} µmol m⁻² s⁻¹.`,
      'Hang the lamps as they are in the room, or choose other blocks.',
    ),
  ];
}

function givenGaps(site: Site): Misfit[] {
  return site.trial.factors.flatMap((factor) => {
    if (factor.kind !== 'given' || onStrips(factor)) return [];
    const levelIds = new Set(factor.levels.map((level) => level.id));
    const gaps = new Set<string>();
    givenLevels(site, factor).forEach((level, i) => {
      const pot = site.pots[i];
      if (pot && (level === null || !levelIds.has(level))) gaps.add(unitIdOf(pot, factor.unit));
    });
    if (gaps.size === 0) return [];
    const about = [...gaps].slice(0, 20).map((id) => `${factor.unit}:${id}`);
    return [
      misfit(
        `${factor.name} is given, but ${counted(gaps.size, factor.unit)} ${gaps.size === 1 ? 'has' : 'have'} no level of it.`,
        `Say which level of ${factor.name} each ${factor.unit} has, or let the draw assign it.`,
        [`factor:${factor.id}`, ...about],
      ),
    ];
  });
}

const onStrips = (factor: Factor): boolean =>
  factor.unit === 'row-strip' || factor.unit === 'column-strip';

/** Why factors and blocks don't make a strip plot, before the size of its strips is looked at. */
function stripMisfits(site: Site): Misfit[] {
  const { trial } = site;
  const drawn = trial.factors.filter((factor) => factor.kind === 'assigned');
  const given = trial.factors.find((factor) => factor.kind === 'given' && onStrips(factor));
  if (given) {
    return [
      misfit(
        `${given.name} is given on strips, but where strips run is settled by the draw alone.`,
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
        'A strip plot needs one factor on strips of rows and another on strips of columns, drawn by lot.',
        'Lay one factor on strips of rows and one on strips of columns, or choose another scheme.',
      ),
    ];
  }
  const wide = drawn.filter((factor) => factor.unit === 'shelf' || factor.unit === 'tray');
  if (wide.length > 0) {
    return [
      misfit(
        `${nameList(wide.map((f) => f.name))} ${wide.length === 1 ? 'sits' : 'sit'} on whole trays or shelves, which a strip plot does not draw: each of its blocks holds every treatment.`,
        'Lay it on strips or pots, or choose a split plot without strips.',
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

function tierMisfits(site: Site): Misfit[] {
  const { trial, tiers } = site;
  const scheme = schemeWords[trial.scheme];
  if (trial.scheme === 'strip-plot') return stripMisfits(site);
  const strips = trial.factors.filter(onStrips);
  if (strips.length > 0) {
    return [
      misfit(
        `${nameList(strips.map((f) => f.name))} ${strips.length === 1 ? 'is' : 'are'} laid on strips, which ${scheme} cannot hold.`,
        'Choose a strip plot, or lay it on shelves, trays or pots.',
      ),
    ];
  }
  if (trial.scheme === 'split-plot') {
    const units = new Set(trial.factors.map((factor) => factor.unit));
    if (units.size > 1 || tiers.length === 0) return [];
    const only = unitWords[trial.factors[0]?.unit ?? 'pot'].many;
    return [
      misfit(
        `A split plot needs factors on two kinds of unit; here all of them are applied to ${only}.`,
        'Choose complete blocks, or put a factor on whole trays or shelves.',
      ),
    ];
  }
  if (tiers.length > 1) {
    const where = tiers.map(
      (tier) => `${nameList(tier.factors.map((f) => f.name))} on ${unitWords[tier.unit].many}`,
    );
    return [
      misfit(
        `The factors sit on different units (${where.join('; ')}), which ${scheme} cannot hold.`,
        'Choose a split plot: it draws whole trays or shelves first and the pots within them after.',
      ),
    ];
  }
  const tier = tiers[0];
  if (!tier || !schemeUsesBlocks(trial.scheme)) return [];
  const needsBlocks = trial.scheme === 'complete-blocks' || trial.scheme === 'incomplete-blocks';
  if (needsBlocks && !tier.usesBlocks) {
    const many = unitWords[tier.unit].many;
    const why =
      site.blocks.length < 2
        ? `the plan has ${site.blocks.length === 1 ? 'only one block' : 'no blocks'}`
        : `the blocks are too small to hold several ${many}`;
    return [
      misfit(
        `${scheme[0]?.toUpperCase() ?? ''}${scheme.slice(1)} need several blocks with several ${many} each, and ${why}.`,
        `Choose larger blocks (${tier.unit === 'pot' ? 'shelves, trays or bands' : 'shelves'}), or a completely randomised layout.`,
      ),
    ];
  }
  return [];
}

function sizeMisfits(site: Site, tier: Tier): Misfit[] {
  const { trial } = site;
  const full = tier.pack.length;
  const wanted = treatmentsInWords(tier);
  const many = unitWords[tier.unit].many;
  if (trial.scheme === 'latin-square' || trial.scheme === 'row-and-column') {
    return gridMisfits(site, tier);
  }
  const small = tier.groups.filter((group) => group.units.length < full);
  if (small.length === 0) {
    if (trial.scheme !== 'incomplete-blocks') return [];
    return [
      misfit(
        `Every block holds at least ${full} ${many}, enough for all ${tier.combinations.length} treatments: incomplete blocks are not needed.`,
        'Choose complete blocks, or make the blocks smaller.',
      ),
    ];
  }
  const smallest = Math.min(...small.map((group) => group.units.length));
  if (trial.scheme === 'incomplete-blocks') {
    if (smallest >= 2) return [];
    return [
      {
        kind: 'block-too-small',
        about: ['plan'],
        text: `The smallest block holds ${counted(smallest, tier.unit)}; a comparison within blocks needs at least 2.`,
        remedy: 'Make the blocks larger.',
      },
    ];
  }
  const first = small[0];
  const name = first ? groupName(site, tier, first.units) : '';
  if (tier.groups.length === 1) {
    return [
      {
        kind: 'too-few-pots',
        about: tier.factors.map((factor) => `factor:${factor.id}`),
        text: `${wanted} are to be shared among ${counted(smallest, tier.unit)}: ${smallest < tier.combinations.length ? 'some would not be grown at all' : 'some would be grown less often than wanted'}.`,
        remedy: `Use fewer levels, add ${many}, or apply the factor to a smaller unit.`,
      },
    ];
  }
  return [
    {
      kind: 'block-too-small',
      about: tier.factors.map((factor) => `factor:${factor.id}`),
      text: `${name} holds ${counted(smallest, tier.unit)} for ${wanted}; ${small.length} of ${tier.groups.length} such groups are too small to hold ${full === tier.combinations.length ? 'each treatment once' : 'a full set'}.`,
      remedy:
        trial.scheme === 'split-plot'
          ? 'Choose larger blocks, fewer levels, or a factor on a smaller unit.'
          : 'Choose larger blocks, fewer levels, or incomplete blocks.',
    },
  ];
}

function groupName(site: Site, tier: Tier, units: readonly number[]): string {
  const pot = tier.firstPot[units[0] ?? 0];
  if (!pot) return 'A group';
  if (tier.usesBlocks) {
    return site.blocks.find((block) => block.potIds.includes(pot.id))?.name ?? 'A block';
  }
  const potNumber = site.pots.indexOf(pot);
  return site.unitNames.tray[site.unitOf.tray.classOf[potNumber] ?? 0] ?? 'A tray';
}

function gridMisfits(site: Site, tier: Tier): Misfit[] {
  const full = tier.pack.length;
  const wanted = treatmentsInWords(tier);
  const latin = site.trial.scheme === 'latin-square';
  if (tier.unit === 'shelf') {
    return [
      misfit(
        `Shelves stand one above the other: they have no rows and columns for ${schemeWords[site.trial.scheme]}.`,
        'Choose a completely randomised layout, or apply the factor to trays or pots.',
      ),
    ];
  }
  const out: Misfit[] = [];
  for (const group of tier.groups) {
    const grid = gridOf(tier, group);
    const name = tier.unit === 'pot' ? groupName(site, tier, group.units) : 'The rack';
    if (!grid) {
      out.push(
        misfit(
          `${name}: its ${unitWords[tier.unit].many} do not fill a rectangle of rows and columns.`,
          'Fill or leave out whole rows and columns, or choose complete blocks.',
        ),
      );
    } else if (latin && (grid.rows % full !== 0 || grid.columns % full !== 0)) {
      out.push(
        misfit(
          `${name} has ${grid.rows} × ${grid.columns} ${unitWords[tier.unit].many}; a Latin square of ${wanted} needs a multiple of ${full} both ways.`,
          `Use guard pots to trim the grid to ${full} × ${full}, change the number of treatments, or choose row-and-column or complete blocks.`,
        ),
      );
    } else if (!latin && grid.rows * grid.columns < full) {
      out.push({
        kind: 'block-too-small',
        about: ['plan'],
        text: `${name} has ${grid.rows * grid.columns} ${unitWords[tier.unit].many} for ${wanted}.`,
        remedy: 'Use fewer levels or larger trays.',
      });
    }
    if (out.length > 0) return out;
  }
  return out;
}

// Which room may use which. The table is that of DEVELOPERS; each rule's comment says why, and what
// is allowed instead. Type imports count: a type from above ties a room to it just as well.

const room = (name) => `^renderer/${name}/`;
const shared = '^shared-types/';
const types = '^renderer/types/';
const words = room('words');
const tables = room('tables');
const encodings = '^renderer/tables/encoding\\.ts$';
const cells = '^renderer/tables/cells\\.ts$';
const entry = '^renderer/engine/(entry|require)\\.ts$';
// What a stage's engine finds, and how it says it. Screens show it as it comes; what takes long is
// asked of derive, which keeps it or hands it to a worker.
const engineFronts =
  '^renderer/engine/(geometry|lamps|light|flood|trial|treated|growth|findings)/index\\.ts$';
// Packages and Node's own modules have rules of their own.
const outside = '^node_modules/|^node:';

/** Everything in `from` may use itself, shared-types, words and `allowed`, and no other room. */
function only(name, from, allowed, comment) {
  return strictly(name, from, [words, ...allowed], comment);
}

/** The same without words. */
function strictly(name, from, allowed, comment) {
  const pathNot = [from, shared, types, outside, ...allowed];
  return {
    name,
    severity: 'error',
    comment,
    from: { path: from },
    to: { pathNot, couldNotResolve: false, dependencyTypesNot: ['core'] },
  };
}

/** Packages that `from` may use; any other is refused. */
function onlyPackages(name, from, packages, comment) {
  return {
    name,
    severity: 'error',
    comment,
    from: { path: from },
    to: {
      path: '^node_modules/',
      pathNot: packages.map((name) => `^node_modules/(@types/)?${name}/`),
    },
  };
}

const engine = (part) => `^renderer/engine/${part}/`;

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: 'no-circles',
      severity: 'error',
      comment: 'Two files that need each other are one idea or miss a third. Split what both use.',
      from: {},
      to: { circular: true },
    },
    {
      name: 'everything-resolves',
      severity: 'error',
      comment: 'An import that leads nowhere escapes every other rule.',
      from: {},
      to: { couldNotResolve: true },
    },

    // Rooms.
    strictly(
      'shared-types-stand-alone',
      shared,
      [],
      'Schemas are what all rooms agree on, so they lean on none. Allowed: zod.',
    ),
    strictly(
      'words-lie-below-all',
      room('words'),
      [],
      'Numbers, units, lists and notices are said alike everywhere, so they lean on no room. ' +
        'Allowed: shared-types.',
    ),
    only(
      'tables-know-no-plan',
      tables,
      [],
      'Every room that reads or writes a table calls this one, whatever the table is about. ' +
        'Allowed: shared-types.',
    ),
    only(
      'engine-computes-only',
      room('engine'),
      [cells],
      'The engine is plain computation that runs anywhere. Allowed: shared-types, and the plain ' +
        'file that says which cells of a table are numbers and which are missing.',
    ),
    only(
      'document-knows-rack-and-lamps-only',
      room('document'),
      [tables, ...['calendar', 'geometry', 'lamps', 'treated'].map(engine)],
      'Commands change the plan; what follows from it is derived later. Allowed: tables, ' +
        'engine/calendar, engine/geometry, engine/lamps, engine/treated.',
    ),
    only(
      'derive-reads-plan-and-engine',
      room('derive'),
      [room('engine'), room('document'), tables, '^package\\.json$'],
      'Derivations are functions of the plan. Allowed: engine, document, tables, and package.json, ' +
        'where the version stands.',
    ),
    only(
      'store-holds-plan-and-session',
      room('store'),
      [room('document'), room('derive'), engineFronts, '^renderer/host/(host|index)\\.ts$'],
      'The store knows no screen. Allowed: document, derive, the fronts (index.ts) of the ' +
        "engine's stages, and the Host type that is handed in.",
    ),
    only(
      'canvas-draws-what-it-is-told',
      room('canvas'),
      ['store', 'derive', 'document', 'ui', 'engine/geometry', 'engine/lamps'].map(room),
      'Layers draw and gestures dispatch. Allowed: store, derive, document, ui, engine/geometry, ' +
        'engine/lamps.',
    ),
    only(
      'panes-show-and-dispatch',
      room('panes'),
      ['canvas', 'store', 'derive', 'document', 'tables', 'ui', 'print']
        .map(room)
        .concat(engineFronts),
      'A pane shows and dispatches. Allowed: canvas, store, derive, document, tables, ui, print, and the ' +
        "fronts (index.ts) of the engine's stages.",
    ),
    only(
      'print-never-reads-the-store',
      room('print'),
      ['derive', 'document', 'engine', 'tables']
        .map(room)
        .concat('^renderer/ui/colour/(palette|pattern)\\.ts$'),
      'A page is a function of the plan, and is printed without a window too. Allowed: derive, ' +
        'document, engine, tables, and the plain tables of colours and patterns in ui.',
    ),
    strictly(
      'host-knows-no-room',
      room('host'),
      [encodings, '^renderer/words/refusal\\.ts$'],
      'The host is a service of the surroundings. Allowed: shared-types, what a refusal is, and ' +
        'the plain file that turns bytes into text.',
    ),
    only(
      'ui-is-dumb',
      room('ui'),
      [],
      'Widgets know no plan, so that any pane can use them. Allowed: shared-types.',
    ),
    {
      name: 'app-is-the-root',
      severity: 'error',
      comment: 'The app wires the rooms together and is used by none of them.',
      from: { pathNot: room('app') },
      to: { path: room('app'), pathNot: '^renderer/app/examples/' },
    },
    {
      name: 'host-is-handed-in',
      severity: 'error',
      comment: 'Only the app chooses a host; the store is handed one and knows its type.',
      from: { path: '^renderer/', pathNot: [room('app'), room('host')] },
      to: { path: '^renderer/host/', pathNot: '^renderer/host/(host|index)\\.ts$' },
    },
    {
      name: 'store-takes-the-type-of-the-host',
      severity: 'error',
      comment: 'The store is handed a host; it must not make one. Allowed: import type.',
      from: { path: room('store') },
      to: { path: '^renderer/host/', dependencyTypesNot: ['type-only', 'type-import'] },
    },
    {
      name: 'sister-panes-are-strangers',
      severity: 'error',
      comment:
        'Each stage stands alone; what two panes share belongs to ui, derive or the store, or to ' +
        'panes/shared where it is a part of the screen that dispatches.',
      from: { path: '^renderer/panes/([^/]+)/' },
      to: { path: '^renderer/panes/([^/]+)/', pathNot: '^renderer/panes/($1|shared)/' },
    },

    // Inside the engine.
    only(
      'engine-geometry-is-a-leaf',
      engine('geometry'),
      [],
      'Positions follow from the plan alone.',
    ),
    only(
      'engine-stats-is-a-leaf',
      engine('stats'),
      [cells, entry],
      'Statistics knows tables, not racks.',
    ),
    only(
      'engine-growth-is-a-leaf',
      engine('growth'),
      [entry],
      'Growth indices are formulas of numbers.',
    ),
    only(
      'engine-lamps-use-geometry',
      engine('lamps'),
      [engine('geometry'), entry],
      'A lamp is a thing on the rack. Allowed: geometry.',
    ),
    only(
      'engine-light-uses-geometry-and-lamps',
      engine('light'),
      [engine('geometry'), engine('lamps'), entry],
      'Light falls on pots and lamps where they stand. Allowed: geometry, lamps.',
    ),
    only(
      'engine-flood-uses-geometry-and-lamps',
      engine('flood'),
      [engine('geometry'), engine('lamps'), entry],
      'Water fills trays around pots; lamps load shelves and circuits. Allowed: geometry, lamps.',
    ),
    only(
      'engine-trial-uses-geometry-and-stats',
      engine('trial'),
      [engine('geometry'), engine('stats'), entry],
      'A draw takes light as plain figures. Allowed: geometry, stats.',
    ),
    only(
      'engine-treated-puts-levels-on-the-rack',
      engine('treated'),
      ['geometry', 'lamps', 'flood', 'trial'].map(engine),
      'What the levels set on lamps, water and pots. Allowed: geometry, lamps, flood, trial.',
    ),
    only(
      'engine-findings-comes-last',
      engine('findings'),
      ['trial', 'growth', 'stats', 'light', 'geometry', 'calendar'].map(engine),
      'Findings is the last stage. Allowed: trial, growth, stats, light, geometry, calendar.',
    ),

    // The shell.
    strictly(
      'shell-takes-plans-as-text',
      '^electron/(?!batch/)',
      [encodings],
      'The shell keeps files and windows; to it a plan is text. Allowed: shared-types, and the ' +
        'plain file that turns bytes into text.',
    ),
    only(
      'batch-runs-without-a-window',
      '^electron/batch/',
      ['engine', 'document', 'derive', 'print', 'tables']
        .map(room)
        .concat(
          '^electron/browser\\.mjs$',
          '^electron/(loopback|services/policies)\\.ts$',
          '^electron/services/files/(writeBeside|renameOver|readText|fileTrouble|makeFolders|leftovers|pdfAttachments)\\.ts$',
        ),
      'The app without a window. Allowed: engine, document, derive, print, tables, reading and writing files, those in a PDF among them, and serving a page to a browser that prints it.',
    ),
    {
      name: 'shell-knows-no-batch',
      severity: 'error',
      comment: 'The desktop app does not contain the batch verbs.',
      from: { path: '^electron/(?!batch/)' },
      to: { path: '^electron/batch/' },
    },
    {
      name: 'electron-at-the-rim-only',
      severity: 'error',
      comment:
        'Services are handed what they need of Electron, so that they run in tests. Allowed: import type.',
      from: { pathNot: '^electron/(main|preload)\\.ts$' },
      to: { path: '^node_modules/electron/', dependencyTypesNot: ['type-only', 'type-import'] },
    },
    {
      name: 'shell-waits-by-the-clock-of-electron',
      severity: 'error',
      comment:
        'Electron wakes its loop for setTimeout and setImmediate; for those of node:timers/promises it does not, and they may come much later.',
      from: { path: '^electron/(?!batch/)' },
      to: { path: '^timers/promises$' },
    },
    {
      name: 'renderer-without-the-shell',
      severity: 'error',
      comment:
        'The renderer runs in a plain browser too. What it needs of the system goes through host.',
      from: { path: ['^renderer/', shared] },
      to: { path: ['^node_modules/electron/', '^electron/'] },
    },
    {
      name: 'renderer-without-node-modules',
      severity: 'error',
      comment:
        'The renderer runs in a plain browser too. What it needs of the system goes through host.',
      from: { path: ['^renderer/', shared] },
      to: { dependencyTypes: ['core'] },
    },

    // Packages.
    onlyPackages('shared-types-packages', shared, ['zod'], 'Schemas are written in zod alone.'),
    onlyPackages(
      'engine-packages',
      room('engine'),
      ['seedrandom', 'jstat', 'ml-matrix', 'd3-contour'],
      'The engine takes numeric packages only: seedrandom, jstat, ml-matrix, d3-contour.',
    ),
    {
      name: 'pure-rooms-without-screen',
      severity: 'error',
      comment: 'These rooms run under Node and in a worker, without React, stage or stored state.',
      from: { path: ['words', 'tables', 'document', 'derive', 'print'].map(room) },
      to: {
        path: '^node_modules/(@types/)?(react|react-dom|react-konva|konva|zustand|idb-keyval)/',
      },
    },
    {
      name: 'tables-alone-have-a-parser',
      severity: 'error',
      comment: 'A second reader of tables has its own separators, quotes and guards. Call tables.',
      from: { path: '^(renderer|electron|shared-types)/', pathNot: tables },
      to: { path: '^node_modules/(@types/)?papaparse/' },
    },
    {
      name: 'canvas-alone-has-a-stage',
      severity: 'error',
      comment: 'Konva stays behind the canvas room. Panes hand it what to draw.',
      from: { path: '^(renderer|electron|shared-types)/', pathNot: room('canvas') },
      to: { path: '^node_modules/(react-konva|konva)/' },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: '^node_modules/' },
    exclude: { path: '^(out|dist|test-results)/' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.json', '.css'],
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'browser', 'default'],
    },
  },
};

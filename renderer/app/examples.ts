/** Plans that come with the program. The texts are fetched when one is opened. */
export interface Example {
  name: string;
  title: string;
  about: string;
  load: () => Promise<string>;
}

export const examples: readonly Example[] = [
  {
    name: 'basil',
    title: 'Demo: basil, feed by cultivar',
    about: 'Three shelves as blocks, feed on whole trays, cultivars shuffled within; harvested.',
    load: () => import('./examples/basil.json?raw').then((m) => m.default),
  },
  {
    name: 'two-lamps',
    title: 'A trial that cannot answer',
    about: 'Two kinds of lamp, one whole shelf each: see what the program says about it.',
    load: () => import('./examples/two-lamps.json?raw').then((m) => m.default),
  },
  {
    name: 'water',
    title: 'Four floods gone wrong',
    about: 'Two siphons, a tray that runs over and a shelf too weak: each caught and explained.',
    load: () => import('./examples/water.json?raw').then((m) => m.default),
  },
  {
    name: 'radishes',
    title: 'Published: radishes grown alike',
    about: 'Four basins of a hundred plants, all treated alike: what did the edge alone do?',
    load: () => import('./examples/radishes.json?raw').then((m) => m.default),
  },
];

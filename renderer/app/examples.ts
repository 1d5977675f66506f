import type { Stage } from '../../shared-types/notice';

/** One thing that an example shows, and the stage where it is seen. */
export interface ExampleStep {
  stage: Stage;
  says: string;
}

/** Plans that come with the program. The texts are fetched when one is opened. */
export interface Example {
  name: string;
  title: string;
  about: string;
  /** What it shows, in three steps; it opens at the first. */
  steps: readonly [ExampleStep, ExampleStep, ExampleStep];
  load: () => Promise<string>;
}

export const examples: readonly Example[] = [
  {
    name: 'basil',
    title: 'Demo: basil, feed by cultivar',
    about: 'Planned, drawn, harvested: what made a difference.',
    steps: [
      {
        stage: 'findings',
        says: 'The answer first: which feed grew the heavier plants, by how much, and how sure that is.',
      },
      {
        stage: 'light',
        says: 'Was it the lamp? The light at every pot, which the findings allow for.',
      },
      {
        stage: 'trial',
        says: 'Why it can be believed: feed on nine trays, cultivars shuffled within each of them.',
      },
    ],
    load: () => import('./examples/basil.json?raw').then((m) => m.default),
  },
  {
    name: 'two-lamps',
    title: 'A trial that cannot answer',
    about: 'Two kinds of lamp, one whole shelf each.',
    steps: [
      {
        stage: 'trial',
        says: 'One shelf against one: no number of plants tells the lamp from the shelf.',
      },
      {
        stage: 'trial',
        says: 'Further down, the ways out that this rack allows, each with what it costs. “Do this” takes one up.',
      },
      {
        stage: 'light',
        says: 'The two lamps as they shine now: the light differs between shelves and within them.',
      },
    ],
    load: () => import('./examples/two-lamps.json?raw').then((m) => m.default),
  },
  {
    name: 'water',
    title: 'Four floods gone wrong',
    about: 'Siphons, an overflow and a weak shelf, each explained.',
    steps: [
      {
        stage: 'flood',
        says: 'Four faults at once. The verdict says what goes wrong, and its buttons mend it.',
      },
      {
        stage: 'rack',
        says: 'One shelf carries more wet trays than it is rated for: select it to see its load.',
      },
      {
        stage: 'flood',
        says: 'Mend one fault, then look at the drawing again. One undo takes it back.',
      },
    ],
    load: () => import('./examples/water.json?raw').then((m) => m.default),
  },
  {
    name: 'radishes',
    title: 'Published: radishes grown alike',
    about: 'A hundred alike in each basin: the edge alone.',
    steps: [
      {
        stage: 'findings',
        says: 'All were treated alike. What differs here is place alone: the plants at the edge.',
      },
      {
        stage: 'records',
        says: 'The published weights, plant by plant, as they were read from the source.',
      },
      {
        stage: 'rack',
        says: 'Four basins of ten by ten. A guard ring at the edge would take its plants out of the result.',
      },
    ],
    load: () => import('./examples/radishes.json?raw').then((m) => m.default),
  },
];

import type { Plan } from '../../shared-types/plan';
import { chartPages } from './chart';
import { htmlDocument, type Page } from './document';
import { labelPages } from './labels';
import type { Paper } from './paper';
import { sheetPages } from './sheets';

export type { Paper } from './paper';

export type PrintableName = 'planting-charts' | 'labels' | 'recording-sheets';

export interface Printable {
  name: PrintableName;
  title: string;
  pages: number;
  html: string;
}

const makers: {
  name: PrintableName;
  title: string;
  pages: (plan: Plan, paper: Paper) => Page[];
}[] = [
  { name: 'planting-charts', title: 'Planting charts', pages: chartPages },
  { name: 'labels', title: 'Pot labels', pages: labelPages },
  { name: 'recording-sheets', title: 'Recording sheets', pages: sheetPages },
];

/** Everything that is carried to the rack, as HTML documents of fixed pages. */
export function printables(plan: Plan, paper: Paper): Printable[] {
  return makers.flatMap(({ name, title, pages: make }) => {
    const pages = make(plan, paper);
    if (pages.length === 0) return [];
    const html = htmlDocument({ title: plan.title, origin: originOf(plan), pages });
    return [{ name, title, pages: pages.length, html }];
  });
}

/** Seed and date of the draw, for every page's header. */
export function originOf(plan: Plan): string {
  const layout = plan.layout;
  if (!layout) return 'no layout drawn';
  return `seed “${layout.seed}”, drawn ${layout.drawnAt.slice(0, 10)}`;
}

import { z } from 'zod';
import {
  dayForms,
  decimalMarks,
  unitSystems,
  weekStarts,
  type LocaleChoice,
} from '../../shared-types/window/locale';
import { stageSchema } from '../../shared-types/notice';
import { papers, usualPaper } from '../../shared-types/paper';
import { noPresets, presetsSchema } from '../../shared-types/window/presets';
import { RECENT_PICTURES, readRecentPictures } from './start/recentPictures';
import { PRESETS } from '../panes/shared/presets/presets';
import type { Settings } from '../host';
import {
  PRINT_OPTIONS,
  PRINTERS,
  printOptionsWith,
  readLabels,
  readPrinters,
  type Printers,
} from '../panes/chart';
import type { PrintOptions } from '../print';
import { createSessionStore, type SessionStore } from '../store/sessionStore';
import { localeOf, speakAs } from '../words';

const THEME = 'theme';
const PAPER = 'paper';
const LABELS = 'labels';
const LOCALE = 'locale';
const PRINTER_LIST = 'printers';
const TEXT_SIZE = 'text-size';
const CAPTIONS = 'captions';

const theme = z.enum(['light', 'dark', 'system']).catch('system');
const textSize = z.enum(['usual', 'large', 'larger']).catch('usual');
const captions = z
  .object({ on: z.boolean(), seen: z.array(stageSchema) })
  .catch({ on: true, seen: [] });
const localeChoice = z
  .object({
    decimal: z.enum(decimalMarks).optional().catch(undefined),
    days: z.enum(dayForms).optional().catch(undefined),
    weekStart: z.enum(weekStarts).optional().catch(undefined),
    units: z.enum(unitSystems).optional().catch(undefined),
  })
  .transform((choice): LocaleChoice => chosenOf(choice))
  .catch({});

/** What was chosen, without what was not. */
function chosenOf(choice: {
  [K in keyof LocaleChoice]?: LocaleChoice[K] | undefined;
}): LocaleChoice {
  const { decimal, days, weekStart, units } = choice;
  return {
    ...(decimal === undefined ? {} : { decimal }),
    ...(days === undefined ? {} : { days }),
    ...(weekStart === undefined ? {} : { weekStart }),
    ...(units === undefined ? {} : { units }),
  };
}

/**
 * A session that begins with what was chosen on this computer: appearance, text size, captions seen,
 * paper, sheet of labels and printers; until a paper is chosen, the one that is usual where `language`
 * is spoken.
 * Numbers and days are written as is usual there, too, from now on, but for what the person has chosen.
 * What else is chosen belongs to the session alone.
 */
export function sessionWith(settings: Settings, language: string): SessionStore {
  const chosenPaper = z.enum(papers).catch(usualPaper(language)).parse(settings.read(PAPER));
  const usualHere = localeOf(language);
  const store = createSessionStore({
    theme: theme.parse(settings.read(THEME)),
    paper: chosenPaper,
    localeChoice: localeChoice.parse(settings.read(LOCALE)),
    usualHere,
    textSize: textSize.parse(settings.read(TEXT_SIZE)),
    captions: captions.parse(settings.read(CAPTIONS)),
  });
  const speak = (choice: LocaleChoice) => speakAs({ ...usualHere, ...choice });
  speak(store.getState().localeChoice);
  const labels = readLabels(settings.read(LABELS));
  if (labels) store.getState().keep(PRINT_OPTIONS.name, printOptionsWith(chosenPaper, labels));
  const printers = readPrinters(settings.read(PRINTER_LIST), settings.read(LABELS));
  if (printers) store.getState().keep(PRINTERS.name, printers);
  store
    .getState()
    .keep(PRESETS.name, presetsSchema.safeParse(settings.read(PRESETS.name)).data ?? noPresets);
  store
    .getState()
    .keep(RECENT_PICTURES.name, readRecentPictures(settings.read(RECENT_PICTURES.name)));
  store.subscribe((now, before) => {
    if (now.theme !== before.theme) settings.keep(THEME, now.theme);
    if (now.textSize !== before.textSize) settings.keep(TEXT_SIZE, now.textSize);
    if (now.captions !== before.captions) settings.keep(CAPTIONS, now.captions);
    if (now.paper !== before.paper) settings.keep(PAPER, now.paper);
    if (now.localeChoice !== before.localeChoice) {
      settings.keep(LOCALE, now.localeChoice);
      // The first to be told, so that all that is drawn anew is written so.
      speak(now.localeChoice);
    }
    const [used, usedBefore] = [now, before].map(
      ({ kept }) => kept.get(PRINTERS.name) as Printers | undefined,
    );
    if (used && used !== usedBefore) settings.keep(PRINTER_LIST, used);
    const [own, ownBefore] = [now, before].map(({ kept }) => kept.get(PRESETS.name));
    if (own !== ownBefore) settings.keep(PRESETS.name, own);
    const [pictures, shown] = [now, before].map(({ kept }) => kept.get(RECENT_PICTURES.name));
    if (pictures !== shown) settings.keep(RECENT_PICTURES.name, pictures);
    const [chosen, was] = [now, before].map(
      // The pane alone writes under this name.
      ({ kept }) => kept.get(PRINT_OPTIONS.name) as PrintOptions | undefined,
    );
    if (!chosen || chosen.labels === was?.labels) return;
    settings.keep(LABELS, chosen.labels);
    settings.keep(PAPER, chosen.paper);
  });
  return store;
}

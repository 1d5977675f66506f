import type { LocaleChoice, UsualHere } from '../../shared-types/window/locale';
import type { Paper } from '../../shared-types/paper';
import { createStore } from 'zustand/vanilla';
import type { StoreApi } from 'zustand/vanilla';
import type { HelpEntry } from '../../shared-types/window/help';
import type { Stage } from '../../shared-types/notice';
import type { GlossaryTerm } from '../words';
import { STANDARD } from '../words';

/** The rack from the front, one shelf from above, or all shelves from above. */
export type RackView = 'front' | 'above' | 'all';
export type Theme = 'light' | 'dark' | 'system';
export type EntryBy = 'first' | 'second';
/** How large the window's words are; the browser's own size stands before it. */
export type TextSize = 'usual' | 'large' | 'larger';
/** A page of the help that stands beside the work. */
export type HelpPage = Exclude<HelpEntry, 'help-captions' | 'about'>;
/** Which stages have shown their caption, each at its first visit; `on`: whether they show any. */
export interface Captions {
  readonly on: boolean;
  readonly seen: readonly Stage[];
}
export type { Paper };

/** What belongs to this session at the screen and to no plan. */
export interface SessionState {
  readonly stage: Stage;
  /** How the rack is seen on this stage. */
  readonly view: RackView;
  /** What was chosen on each stage; elsewhere a stage opens in the view that serves it. */
  readonly chosenViews: Readonly<Partial<Record<Stage, RackView>>>;
  /** The shelf seen from above; null: the first there is. */
  readonly shelfId: string | null;
  /** References such as `tray:t2`, `lamp:l3`, `shelf:s1`, `pot:t2:1:3`. */
  readonly selection: readonly string[];
  /** What was changed just now by a button elsewhere, to be seen for a moment. */
  readonly marked: readonly string[];
  /** What the pointer is over, in words. */
  readonly hover: string | null;
  /** What is pointed at on the rack or in a figure, by its reference: both ring it. */
  readonly pointed: string | null;
  readonly theme: Theme;
  readonly textSize: TextSize;
  readonly paper: Paper;
  /** What is usual on this computer: decimal sign, form of days, start of a week, units of new plans. */
  readonly usualHere: UsualHere;
  /** The same as the person chose it, where not as the computer has it. */
  readonly localeChoice: LocaleChoice;
  readonly captions: Captions;
  /** The help that is open, and the terms that it was asked about. */
  readonly help: { readonly page: HelpPage; readonly about: readonly GlossaryTerm[] } | null;
  /** The drawing tool in hand, by its name; `select` when none is. */
  readonly tool: string;
  /** Who enters records; the second person sees nothing of the first entry. */
  readonly entryBy: EntryBy;
  /** Of each person who enters, asked once a session; empty: not said. */
  readonly initials: Readonly<Record<EntryBy, string>>;
  /** The list of runs is open. */
  readonly runsListed: boolean;
  /** An incident is being written down about what is selected. */
  readonly logging: boolean;
  /** A pot is looked for by its code or plant. */
  readonly finding: boolean;
  /** What the program is, where it keeps things and what went wrong is being told. */
  readonly aboutShown: boolean;
  /** The page that makes a first plan of a few answers is open, in place of the stages. */
  readonly quickStart: boolean;
  /** What was chosen on a stage and outlives leaving it; read through `useKept`. */
  readonly kept: ReadonlyMap<string, unknown>;

  goTo(stage: Stage): void;
  setView(view: RackView): void;
  showShelf(shelfId: string | null): void;
  select(refs: readonly string[]): void;
  /** Adds to the selection or takes away from it. */
  toggleSelected(ref: string): void;
  mark(refs: readonly string[]): void;
  setHover(words: string | null): void;
  pointAt(ref: string | null): void;
  setTheme(theme: Theme): void;
  setTextSize(size: TextSize): void;
  setPaper(paper: Paper): void;
  setLocaleChoice(choice: LocaleChoice): void;
  setCaptions(captions: Captions): void;
  /** Opens a page of the help, or closes it. */
  showHelp(page: HelpPage | null, about?: readonly GlossaryTerm[]): void;
  takeTool(tool: string): void;
  enterAs(by: EntryBy): void;
  /** Of the one who enters now. */
  setInitials(initials: string): void;
  listRuns(open: boolean): void;
  findPot(open: boolean): void;
  logIncident(open: boolean): void;
  showAbout(open: boolean): void;
  startQuickly(): void;
  keep(name: string, choice: unknown): void;
  /** For another plan: nothing selected, the first stage; what is kept stays. */
  reset(): void;
}

export type SessionStore = StoreApi<SessionState>;

/** Racks are built from the front; all that concerns pots is seen from above. */
const viewServing = (stage: Stage): RackView => (stage === 'rack' ? 'front' : 'all');

const fresh = {
  stage: 'rack',
  view: 'front',
  chosenViews: {},
  shelfId: null,
  selection: [],
  marked: [],
  hover: null,
  pointed: null,
  tool: 'select',
  entryBy: 'first',
  runsListed: false,
  finding: false,
  logging: false,
  aboutShown: false,
  quickStart: false,
} as const;

export function createSessionStore(
  preferences: Partial<
    Pick<SessionState, 'theme' | 'paper' | 'localeChoice' | 'usualHere' | 'textSize' | 'captions'>
  > = {},
): SessionStore {
  return createStore<SessionState>()((set, get) => ({
    ...fresh,
    kept: new Map(),
    initials: { first: '', second: '' },
    theme: preferences.theme ?? 'system',
    paper: preferences.paper ?? 'A4',
    localeChoice: preferences.localeChoice ?? {},
    usualHere: preferences.usualHere ?? { ...STANDARD, units: 'metric' },
    textSize: preferences.textSize ?? 'usual',
    captions: preferences.captions ?? { on: true, seen: [] },
    help: null,

    goTo: (stage) => {
      const view = get().chosenViews[stage] ?? viewServing(stage);
      set({ stage, view, tool: 'select', hover: null, pointed: null, quickStart: false });
    },
    setView: (view) => {
      const { stage, chosenViews } = get();
      set({ view, chosenViews: { ...chosenViews, [stage]: view }, hover: null });
    },
    showShelf: (shelfId) => {
      set({ shelfId });
    },
    select: (refs) => {
      set({ selection: [...new Set(refs)] });
    },
    toggleSelected: (ref) => {
      const { selection } = get();
      const without = selection.filter((other) => other !== ref);
      set({ selection: without.length < selection.length ? without : [...selection, ref] });
    },
    mark: (marked) => {
      set({ marked });
    },
    setHover: (hover) => {
      if (hover !== get().hover) set({ hover });
    },
    pointAt: (pointed) => {
      if (pointed !== get().pointed) set({ pointed });
    },
    setTheme: (theme) => {
      set({ theme });
    },
    setPaper: (paper) => {
      set({ paper });
    },
    setLocaleChoice: (localeChoice) => {
      // What the pointer is over was said in the old way.
      set({ localeChoice, hover: null });
    },
    setTextSize: (textSize) => {
      set({ textSize });
    },
    setCaptions: (captions) => {
      set({ captions });
    },
    showHelp: (page, about = []) => {
      set({ help: page === null ? null : { page, about } });
    },
    takeTool: (tool) => {
      set({ tool });
    },
    enterAs: (entryBy) => {
      set({ entryBy });
    },
    setInitials: (initials) => {
      const { entryBy, initials: all } = get();
      set({ initials: { ...all, [entryBy]: initials } });
    },
    listRuns: (runsListed) => {
      set({ runsListed });
    },
    logIncident: (logging) => {
      set({ logging });
    },
    showAbout: (aboutShown) => {
      set({ aboutShown });
    },
    findPot: (finding) => {
      set({ finding });
    },
    startQuickly: () => {
      set({ ...fresh, quickStart: true });
    },
    keep: (name, choice) => {
      set({ kept: new Map(get().kept).set(name, choice) });
    },
    reset: () => {
      set(fresh);
    },
  }));
}

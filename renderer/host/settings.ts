/** Choices that belong to this computer and not to a plan, by name. */
export interface Settings {
  /** What was kept under a name, as it came out of JSON; undefined: nothing that can be read. */
  read(name: string): unknown;
  /** Keeps a choice from now on, also after a restart; where that is impossible, for this session. */
  keep(name: string, choice: unknown): void;
}

const key = (name: string) => `evenrack-${name}`;

/** In the window's own storage: the desktop shell gives its page one as a browser does. */
export function storedSettings(window: Pick<Window, 'localStorage'>): Settings {
  const storage = (): Storage | null => {
    try {
      return window.localStorage;
    } catch (error) {
      mustBeRefused(error);
      // The person has forbidden pages to keep anything.
      return null;
    }
  };
  return {
    read(name) {
      try {
        const text = storage()?.getItem(key(name)) ?? null;
        return text === null ? undefined : (JSON.parse(text) as unknown);
      } catch (error) {
        if (!(error instanceof SyntaxError)) mustBeRefused(error);
        return undefined;
      }
    },
    keep(name, choice) {
      try {
        storage()?.setItem(key(name), JSON.stringify(choice));
      } catch (error) {
        mustBeRefused(error);
        // No room left: the choice holds for this session.
      }
    },
  };
}

/** A browser may refuse to keep anything; any other error is a mistake of the program's. */
function mustBeRefused(error: unknown): void {
  if (!(error instanceof DOMException)) throw error;
}

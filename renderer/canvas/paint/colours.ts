const NAMES = {
  ground: '--ground',
  surface: '--surface',
  raised: '--raised',
  ink: '--ink',
  inkSoft: '--ink-soft',
  line: '--line',
  lineStrong: '--line-strong',
  accent: '--accent',
  accentSoft: '--accent-soft',
  onAccent: '--on-accent',
  focus: '--focus',
  stop: '--stop',
  warn: '--warn',
  note: '--note',
  shelf: '--shelf',
  shelfLine: '--shelf-line',
  tray: '--tray',
  trayLine: '--tray-line',
  pot: '--pot',
  potLine: '--pot-line',
  guard: '--guard',
  lamp: '--lamp',
  lampLine: '--lamp-line',
  water: '--water',
  good: '--good',
  font: '--font',
} as const;

/** The design tokens that the canvas paints with, read once per theme. */
export type CanvasColours = Readonly<Record<keyof typeof NAMES, string>>;

/** Reads the tokens as they stand for this element. Throws where one is missing. */
export function readColours(element: Element): CanvasColours {
  const style = getComputedStyle(element);
  const read = (name: string) => {
    const value = style.getPropertyValue(name).trim();
    if (value === '') {
      throw new Error(
        `canvas colours: token ${name} is empty; ui/tokens.css is expected to set it`,
      );
    }
    return value;
  };
  const entries = Object.entries(NAMES).map(([key, name]) => [key, read(name)]);
  return Object.fromEntries(entries) as CanvasColours;
}

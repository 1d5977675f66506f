import { useEffect } from 'react';
import type { TextSize, Theme } from '../store/sessionStore';

/** Puts the chosen appearance on the page; `system` follows the system as it changes. */
export function useTheme(theme: Theme): void {
  useEffect(() => {
    const dark = window.matchMedia('(prefers-color-scheme: dark)');
    const apply = () => {
      const shown = theme === 'system' ? (dark.matches ? 'dark' : 'light') : theme;
      document.documentElement.dataset['theme'] = shown;
    };
    apply();
    dark.addEventListener('change', apply);
    return () => dark.removeEventListener('change', apply);
  }, [theme]);
}

/** How large words are, against the size that the browser has for them. */
const shares: Readonly<Record<TextSize, string>> = {
  usual: '100%',
  large: '115%',
  larger: '130%',
};

/** Every size of words in the window is a share of the page's own. */
export function useTextSize(size: TextSize): void {
  useEffect(() => {
    document.documentElement.style.fontSize = shares[size];
  }, [size]);
}

import { useEffect } from 'react';
import type { Theme } from '../store/sessionStore';

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

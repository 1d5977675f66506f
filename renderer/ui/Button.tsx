import type { ButtonHTMLAttributes, ReactNode } from 'react';

export interface ButtonProps extends ButtonHTMLAttributes<HTMLButtonElement> {
  tone?: 'plain' | 'primary' | 'quiet' | 'danger';
  /** Held down, for a button that switches something on. */
  pressed?: boolean;
  children: ReactNode;
}

export function Button({ tone = 'plain', pressed, className, ...rest }: ButtonProps) {
  return (
    <button
      type="button"
      {...rest}
      aria-pressed={pressed}
      className={['button', `button-${tone}`, className].filter(Boolean).join(' ')}
    />
  );
}

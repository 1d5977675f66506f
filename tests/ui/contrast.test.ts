import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  lightColour,
  signedColour,
  treatmentColours,
  treatmentLook,
} from '../../renderer/ui/colour/palette';

/** WCAG 2.1 relative luminance and contrast ratio, as in trade facts 8.4. */
function luminance(colour: string): number {
  const [r = 0, g = 0, b = 0] = channels(colour).map((c) => {
    const share = c / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function channels(colour: string): number[] {
  if (colour.startsWith('#')) {
    return [1, 3, 5].map((i) => Number.parseInt(colour.slice(i, i + 2), 16));
  }
  return (colour.match(/[0-9.]+/g) ?? []).slice(0, 3).map(Number);
}

function contrast(a: string, b: string): number {
  const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

const css = readFileSync(new URL('../../renderer/ui/tokens.css', import.meta.url), 'utf8');

function tokens(block: string): Record<string, string> {
  return Object.fromEntries(
    [...block.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6})/g)].map((m) => [m[1] ?? '', m[2] ?? '']),
  );
}

const [lightBlock = '', darkBlock = ''] = css.split("[data-theme='dark']");
const themes = { light: tokens(lightBlock), dark: tokens(darkBlock) };

describe('contrast formula', () => {
  // #767676 on white 4.542224960, #777777 4.478089454: trade facts 8.4 (WCAG 2.1).
  it('agrees with the published values', () => {
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54222496, 8);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.478089454, 8);
  });
});

describe.each(Object.entries(themes))('%s theme', (_name, theme) => {
  const of = (name: string) => theme[name] ?? '#000000';
  const texts = ['ink', 'ink-soft', 'accent', 'stop', 'warn', 'note', 'good'];
  const grounds = ['ground', 'surface', 'raised'];

  it('has at least 4.5 : 1 for every text on every ground', () => {
    for (const text of texts) {
      for (const ground of grounds) {
        const pair = `${text} on ${ground}`;
        expect([pair, contrast(of(text), of(ground)) >= 4.5]).toEqual([pair, true]);
      }
    }
  });

  it('has at least 4.5 : 1 on the soft grounds and on the accent', () => {
    const pairs = [
      ['accent', 'accent-soft'],
      ['ink', 'accent-soft'],
      ['stop', 'stop-soft'],
      ['warn', 'warn-soft'],
      ['note', 'note-soft'],
      ['good', 'good-soft'],
      ['ink', 'warn-soft'],
      ['on-accent', 'accent'],
    ] as const;
    for (const [text, ground] of pairs) {
      const pair = `${text} on ${ground}`;
      expect([pair, contrast(of(text), of(ground)) >= 4.5]).toEqual([pair, true]);
    }
  });

  it('has at least 3 : 1 for lines that carry meaning (WCAG 2.1, 1.4.11)', () => {
    for (const line of ['line-strong', 'focus']) {
      for (const ground of ['surface', 'raised']) {
        const pair = `${line} on ${ground}`;
        expect([pair, contrast(of(line), of(ground)) >= 3]).toEqual([pair, true]);
      }
    }
  });
});

describe('treatment colours', () => {
  it('are those of Okabe & Ito (2008), the last a grey of our own', () => {
    const published = ['#0072B2', '#E69F00', '#009E73', '#CC79A7', '#56B4E9', '#D55E00', '#F0E442'];
    expect(treatmentColours.slice(0, 7)).toEqual(published);
  });

  it('carry their letter with at least 4.5 : 1', () => {
    for (let i = 0; i < 8; i++) {
      const look = treatmentLook(i);
      expect(contrast(look.colour, look.ink)).toBeGreaterThanOrEqual(4.5);
    }
  });

  it('give no two of the first 64 treatments both colour and pattern alike', () => {
    const looks = Array.from({ length: 64 }, (_, i) => treatmentLook(i));
    expect(new Set(looks.map((l) => `${l.colour} ${l.pattern}`)).size).toBe(64);
  });
});

describe('scales', () => {
  it('rise in lightness from dim to bright, so that light reads in grey', () => {
    const steps = Array.from({ length: 41 }, (_, i) => luminance(lightColour(i / 40)));
    for (let i = 1; i < steps.length; i++) expect(steps[i]).toBeGreaterThan(steps[i - 1] ?? 1);
  });

  it('are darkest at both ends and palest in the middle for signed values', () => {
    const at = (value: number) => luminance(signedColour(value));
    expect(at(0)).toBeGreaterThan(at(-0.5));
    expect(at(-0.5)).toBeGreaterThan(at(-1));
    expect(at(0)).toBeGreaterThan(at(0.5));
    expect(at(0.5)).toBeGreaterThan(at(1));
  });
});

import { afterEach, describe, expect, it } from 'vitest';
import { sessionWith } from '../../renderer/app/settings';
import { storedSettings } from '../../renderer/host';
import {
  presetNameOf,
  PRESETS,
  withoutPreset,
  withPreset,
} from '../../renderer/panes/shared/presets/presets';
import { noPresets } from '../../shared-types/window/presets';
import { PRINT_OPTIONS, PRINTERS, type Printers } from '../../renderer/panes/chart/kept';
import { fixed, speakAs, spokenLocale, STANDARD } from '../../renderer/words';
import { defaultOptions, labelPresets, type PrintOptions } from '../../renderer/print';

// A session speaks as its computer does, from then on.
afterEach(() => speakAs(STANDARD));

/** The storage of one computer, as a window has it. */
function computer() {
  const texts = new Map<string, string>();
  const localStorage: Storage = {
    get length() {
      return texts.size;
    },
    clear: () => texts.clear(),
    key: (i) => [...texts.keys()][i] ?? null,
    getItem: (key) => texts.get(key) ?? null,
    setItem: (key, text) => void texts.set(key, text),
    removeItem: (key) => void texts.delete(key),
  };
  const start = (language = 'en-GB') =>
    sessionWith(storedSettings({ localStorage }), language).getState();
  return { texts, start };
}

const optionsOf = ({ kept }: { kept: ReadonlyMap<string, unknown> }) =>
  kept.get(PRINT_OPTIONS.name) as PrintOptions | undefined;

describe('choices of this computer', () => {
  const chosen = (): PrintOptions => {
    const usual = defaultOptions('Letter');
    const { geometry } = labelPresets.filter(({ paper }) => paper === 'Letter')[3] ?? usual.labels;
    const labels = { ...usual.labels, geometry, startCell: 7 };
    return { ...usual, blinded: true, trayIds: ['t1'], labels };
  };

  const inTheOffice: Printers = {
    chosen: 'office',
    list: [
      { name: 'shed', fit: { scaleX: 0.98, scaleY: 0.985, shiftXMm: 0, shiftYMm: 0 } },
      { name: 'office', fit: { scaleX: 1, scaleY: 1, shiftXMm: 1.5, shiftYMm: -0.8 } },
    ],
  };

  it('outlive a restart: own presets, and those alone that can be read', () => {
    const mine = computer();
    const pots = { name: '7 cm square', value: { potDiameterMm: 70, potHeightMm: 65 } };
    mine.start().keep(PRESETS.name, withPreset(noPresets, 'pot', pots));
    expect(mine.start().kept.get(PRESETS.name)).toEqual({ ...noPresets, pot: [pots] });
    mine.texts.set(
      'evenrack-presets',
      JSON.stringify({ pot: [pots, { name: 'flat', value: { potDiameterMm: -1 } }], siphon: 'x' }),
    );
    expect(mine.start().kept.get(PRESETS.name)).toEqual({ ...noPresets, pot: [pots] });
    mine.texts.set('evenrack-presets', 'no JSON');
    expect(mine.start().kept.get(PRESETS.name)).toEqual(noPresets);
  });

  it('hold one preset of a name, and know it again', () => {
    const value = { potDiameterMm: 70, potHeightMm: 65 };
    const one = withPreset(noPresets, 'pot', { name: 'seven', value });
    expect(presetNameOf(one, 'pot', { potHeightMm: 65, potDiameterMm: 70 })).toBe('seven');
    expect(presetNameOf(one, 'pot', { ...value, potHeightMm: 64 })).toBeNull();
    const two = withPreset(one, 'pot', { name: 'seven', value: { ...value, potHeightMm: 64 } });
    expect(two.pot).toHaveLength(1);
    expect(withoutPreset(two, 'pot', 'seven')).toEqual(noPresets);
  });

  it('outlive a restart: appearance, paper, sheet of labels and printers, and these alone', () => {
    const mine = computer();
    const session = mine.start();
    session.setTheme('dark');
    session.setPaper('Letter');
    session.keep(PRINT_OPTIONS.name, chosen());
    session.keep(PRINTERS.name, inTheOffice);
    const again = mine.start();
    expect(again).toMatchObject({ theme: 'dark', paper: 'Letter' });
    expect(again.kept.get(PRINTERS.name)).toEqual(inTheOffice);
    expect(optionsOf(again)).toEqual({
      ...defaultOptions('Letter'),
      // A sheet that was begun is none of the next session.
      labels: { ...chosen().labels, startCell: 1 },
    });
  });

  it('take the shift of the printer over from where it stood among the labels', () => {
    const mine = computer();
    mine.texts.set('evenrack-labels', '{"shiftXMm":1.5,"shiftYMm":-0.8,"show":"pot"}');
    expect(mine.start().kept.get(PRINTERS.name)).toEqual({
      chosen: 'my printer',
      list: [{ name: 'my printer', fit: { scaleX: 1, scaleY: 1, shiftXMm: 1.5, shiftYMm: -0.8 } }],
    });
  });

  it('are the usual ones where nothing, or nothing that fits, was kept', () => {
    const mine = computer();
    expect(optionsOf(mine.start())).toBeUndefined();
    for (const text of [
      '{',
      '5',
      'null',
      '{"geometry":{"columns":1e9}}',
      '{"chosen":"a","list":[]}',
    ]) {
      for (const name of ['theme', 'paper', 'labels', 'printers'])
        mine.texts.set(`evenrack-${name}`, text);
      const session = mine.start();
      expect(session).toMatchObject({ theme: 'system', paper: 'A4' });
      expect(optionsOf(session)).toBeUndefined();
      expect(session.kept.get(PRINTERS.name)).toBeUndefined();
    }
  });

  it('begin with the paper of the country, by CLDR, until one is chosen', () => {
    const papers = ['en-US', 'es-MX', 'fr-CA', 'en-GB', 'fr-FR', 'pt-BR', 'de', '', '?'].map(
      (language) => computer().start(language).paper,
    );
    expect(papers).toEqual(['Letter', 'Letter', 'Letter', 'A4', 'A4', 'A4', 'A4', 'A4', 'A4']);
    const mine = computer();
    mine.start('en-US').setPaper('A4');
    expect(mine.start('en-US').paper).toBe('A4');
  });

  it('begin with the signs of the country, until others are chosen, and speak so from then on', () => {
    const mine = computer();
    const speaks = (language: string) => {
      mine.start(language);
      return [fixed(2.5, 1), spokenLocale().days];
    };
    expect(speaks('de-DE')).toEqual(['2,5', 'day-first']);
    expect(speaks('en-US')).toEqual(['2.5', 'month-first']);
    mine.start('en-US').setLocaleChoice({ decimal: ',' });
    expect(fixed(2.5, 1)).toBe('2,5');
    expect(speaks('en-US')).toEqual(['2,5', 'month-first']);
    mine.texts.set('evenrack-locale', '{"decimal":"x","days":"iso"}');
    expect(speaks('en-US')).toEqual(['2.5', 'iso']);
    mine.start('en-US').setLocaleChoice({});
    expect(speaks('de-DE')).toEqual(['2,5', 'day-first']);
  });

  it('hold for the session where the window may keep nothing', () => {
    const session = sessionWith(
      storedSettings({
        get localStorage(): Storage {
          throw new DOMException('denied', 'SecurityError');
        },
      }),
      'en-GB',
    );
    session.getState().setPaper('Letter');
    expect(session.getState().paper).toBe('Letter');
  });
});

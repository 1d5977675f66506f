import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Fold } from '../../renderer/ui';

describe('a fold', () => {
  it('computes what a function gives only once it is open', () => {
    const inside = () => {
      throw new Error('computed');
    };
    const closed = renderToStaticMarkup(<Fold title="Figures">{inside}</Fold>);
    expect(closed).toContain('Figures');
    for (const opened of [{ startsOpen: true }, { open: true }]) {
      expect(() =>
        renderToStaticMarkup(
          <Fold title="Figures" {...opened}>
            {inside}
          </Fold>,
        ),
      ).toThrow('computed');
    }
  });

  it('keeps what is no function, so that what was typed in it outlasts folding', () => {
    const closed = renderToStaticMarkup(<Fold title="Figures">typed</Fold>);
    expect(closed).toContain('typed');
    expect(closed).not.toContain('open=""');
  });

  it('says more in its line where it has more to say', () => {
    const line = (said?: string) =>
      renderToStaticMarkup(
        <Fold title="Figures" said={said}>
          in
        </Fold>,
      );
    expect(line()).toContain('<summary>Figures</summary>');
    expect(line('12')).toContain('Figures <span class="fold-soft">12</span>');
  });
});

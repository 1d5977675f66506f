import { renderToString } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { detailsOf } from '../../renderer/app/details';
import { ErrorBoundary } from '../../renderer/ui/ErrorBoundary';

describe('a part that fails to draw', () => {
  it('gives way to what is said of it, until what it shows is another', () => {
    const failed = ErrorBoundary.getDerivedStateFromError('odd');
    expect(failed.error?.message).toBe('odd');
    const props = { resetOn: [1, 'rack'], fallback: () => null, children: null };
    const state = { error: new Error('odd'), of: [1, 'rack'] };
    expect(ErrorBoundary.getDerivedStateFromProps(props, state)).toBeNull();
    expect(
      ErrorBoundary.getDerivedStateFromProps({ ...props, resetOn: [1, 'light'] }, state),
    ).toEqual({ error: null, of: [1, 'light'] });
  });

  it('draws its children while nothing is wrong', () => {
    const html = renderToString(
      <ErrorBoundary resetOn={[]} fallback={() => 'broken'}>
        sound
      </ErrorBoundary>,
    );
    expect(html).toBe('sound');
  });

  it('is told with where it failed, and nothing of the plan', () => {
    expect(detailsOf(new TypeError('no lamp'))).toMatch(/^TypeError: no lamp\n/);
  });
});

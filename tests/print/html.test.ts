import { expect, test } from 'vitest';
import { html, raw } from '../../renderer/print/html';

const name = `<b>&"'</b>`;
const safe = '&lt;b&gt;&amp;&quot;&#39;&lt;/b&gt;';

test('what is put into a template is text, in content and in attributes', () => {
  expect(html`<p title="${name}">${name}</p>`.markup).toBe(`<p title="${safe}">${safe}</p>`);
});

test('pieces compose without being escaped twice; lists are joined; nothing is nothing', () => {
  const item = (text: string) => html`<li>${text}</li>`;
  expect(html`<ul>${['a', name].map(item)}${[[item('&')], null, false, '', 0]}</ul>`.markup).toBe(
    `<ul><li>a</li><li>${safe}</li><li>&amp;</li>0</ul>`,
  );
});

test('raw markup stands as it is, and a text that looks like markup does not', () => {
  expect(html`${raw('<svg/>')}${'<svg/>'}`.markup).toBe('<svg/>&lt;svg/&gt;');
});

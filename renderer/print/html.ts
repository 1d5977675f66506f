/** Markup in which every text is escaped. Only `html` and `raw` make it. */
class Html {
  constructor(readonly markup: string) {}
}

export type { Html };

/** What may stand in markup: texts are escaped, lists are joined, null and false are nothing. */
export type Fragment = Html | string | number | null | false | readonly Fragment[];

const ESCAPES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** HTML or SVG from a template; what is put in stays text, in content and in attributes alike. */
export function html(markup: TemplateStringsArray, ...parts: readonly Fragment[]): Html {
  return new Html(
    parts.reduce<string>(
      (before, part, i) => before + markupOf(part) + (markup[i + 1] ?? ''),
      markup[0] ?? '',
    ),
  );
}

/** Text that is markup already, such as a library's drawing or a style sheet; it is not checked. */
export function raw(markup: string): Html {
  return new Html(markup);
}

function markupOf(part: Fragment): string {
  if (part === null || part === false) return '';
  if (part instanceof Html) return part.markup;
  if (typeof part === 'object') return part.map(markupOf).join('');
  return String(part).replace(/[&<>"']/g, (sign) => ESCAPES[sign] ?? sign);
}

/**
 * As much of a document as the charting library asks for, so that figures are drawn the same way in
 * a window, for a report and without any window: nodes hold names, attributes and children, and
 * write themselves as text.
 */

import { html, raw, type Html } from '../../html';

interface TextNode {
  parentNode: Element | null;
  text(): Html;
}

class Words implements TextNode {
  parentNode: Element | null = null;
  constructor(private readonly words: string) {}
  text(): Html {
    return html`${this.words}`;
  }
}

/** Styles are set by `setProperty`, or as properties in camel case. */
class Style {
  private readonly entries = new Map<string, string>();
  setProperty(name: string, value: unknown): void {
    this.entries.set(name, String(value));
  }
  removeProperty(name: string): void {
    this.entries.delete(name);
  }
  text(): string {
    const assigned = Object.entries(this).filter(([, value]) => typeof value === 'string');
    return [...this.entries, ...assigned]
      .map(([name, value]) => `${name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}: ${value}`)
      .join('; ');
  }
}

class Element implements TextNode {
  parentNode: Element | null = null;
  readonly style = new Style();
  readonly ownerDocument = textDocument;
  private readonly attributes = new Map<string, string>();
  private children: TextNode[] = [];

  constructor(readonly tagName: string) {}

  get namespaceURI(): string {
    return 'http://www.w3.org/2000/svg';
  }
  setAttribute(name: string, value: unknown): void {
    this.attributes.set(name, String(value));
  }
  setAttributeNS(_space: string, name: string, value: unknown): void {
    this.attributes.set(name, String(value));
  }
  getAttribute(name: string): string | null {
    return this.attributes.get(name) ?? null;
  }
  hasAttribute(name: string): boolean {
    return this.attributes.has(name);
  }
  removeAttribute(name: string): void {
    this.attributes.delete(name);
  }
  appendChild<Node extends TextNode>(child: Node): Node {
    return this.insertBefore(child, null);
  }
  append(...children: (TextNode | string)[]): void {
    for (const child of children) {
      this.appendChild(typeof child === 'string' ? new Words(child) : child);
    }
  }
  insertBefore<Node extends TextNode>(child: Node, before: TextNode | null): Node {
    // A node stands in one place: put elsewhere, as a dot into its link, it leaves the first.
    child.parentNode?.remove(child);
    child.parentNode = this;
    const at = before === null ? -1 : this.children.indexOf(before);
    if (at < 0) this.children.push(child);
    else this.children.splice(at, 0, child);
    return child;
  }
  private remove(child: TextNode): void {
    this.children = this.children.filter((other) => other !== child);
  }
  get firstChild(): TextNode | null {
    return this.children[0] ?? null;
  }
  get childNodes(): readonly TextNode[] {
    return this.children;
  }
  set textContent(words: string) {
    this.children = [];
    if (words !== '') this.append(String(words));
  }
  text(): Html {
    const style = this.style.text();
    const attributes = [
      ...this.attributes,
      ...(style === '' ? [] : [['style', style] as const]),
    ].map(([name, value]) => html` ${raw(name)}="${value}"`);
    const name = raw(this.tagName);
    return html`<${name}${attributes}>${this.children.map((child) => child.text())}</${name}>`;
  }
}

export const textDocument: object = {
  createElementNS: (_space: string, name: string) => new Element(name),
  createElement: (name: string) => new Element(name),
  createTextNode: (words: string) => new Words(words),
  get documentElement() {
    return new Element('html');
  },
};

/** What the library drew, as text. Throws on anything that was not drawn with `textDocument`. */
export function drawnText(drawn: unknown): string {
  if (drawn instanceof Element) return drawn.text().markup;
  throw new Error('figure: found something that is no drawing; expected one of the text document');
}

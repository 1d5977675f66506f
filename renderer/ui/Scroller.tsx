import { useEffect, useRef, useState, type ReactNode } from 'react';

/** Something that may be larger than its room: then, and only then, the keyboard can scroll it. */
export function Scroller(props: { className: string; label: string; children: ReactNode }) {
  const element = useRef<HTMLDivElement>(null);
  const [scrolls, setScrolls] = useState(false);
  useEffect(() => {
    const box = element.current;
    if (!box) return undefined;
    const measure = () =>
      setScrolls(box.scrollHeight > box.clientHeight || box.scrollWidth > box.clientWidth);
    const watch = new ResizeObserver(measure);
    watch.observe(box);
    for (const child of box.children) watch.observe(child);
    return () => watch.disconnect();
  });
  return (
    <div
      ref={element}
      className={props.className}
      {...(scrolls ? { tabIndex: 0, role: 'group', 'aria-label': props.label } : {})}
    >
      {props.children}
    </div>
  );
}

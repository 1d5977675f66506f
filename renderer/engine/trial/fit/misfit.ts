import type { NoticeKind } from '../../../../shared-types/notice';

/** A reason why the layout can't be drawn as the plan says. */
export interface Misfit {
  kind: NoticeKind;
  about: string[];
  text: string;
  remedy: string;
}

export function misfit(text: string, remedy: string, about: string[] = ['plan']): Misfit {
  return { kind: 'scheme-does-not-fit', about, text, remedy };
}

import type { ReactNode } from 'react';
import type { GlossaryTerm } from '../../words';
import { Bell, Places, SideView } from './drawings';

/** A small picture of a term, where one says more than its sentence. */
export function TermPicture({ term }: { term: GlossaryTerm }) {
  const picture = pictures[term];
  if (picture === undefined) return null;
  return (
    <svg className="term-picture" viewBox="0 0 160 64" width="160" height="64" aria-hidden="true">
      {picture}
    </svg>
  );
}

const pictures: Readonly<Partial<Record<GlossaryTerm, ReactNode>>> = {
  experimentalUnit: <Places rows={['AAA BBB AAA BBB', 'AAA BBB AAA BBB']} framed />,
  replicate: <Places rows={['AAA BBB AAA BBB', 'AAA BBB AAA BBB']} framed />,
  shuffled: <Places rows={['BABAABAB', 'ABBAABBA']} />,
  block: <Places rows={['ABC BCA CAB', 'CBA ACB BAC']} framed />,
  completelyRandomised: <Places rows={['ABBCA', 'CACBB', 'BCAAC']} />,
  randomisedBlocks: <Places rows={['ABC BCA CAB']} framed />,
  incompleteBlocks: <Places rows={['AB AC BC', 'CB BA CA']} framed />,
  latinSquare: <Places rows={['ABC', 'BCA', 'CAB']} />,
  rowsAndColumns: <Places rows={['ABCD', 'BADC', 'CDAB']} />,
  splitPlot: <Places rows={['ABC BCA', 'CAB ABC']} framed shaded />,
  confounded: <Places rows={['AAAA BBBB', 'AAAA BBBB']} framed shaded />,
  guardPot: <Places rows={['·····', '·ABA·', '·BAB·', '·····']} />,
  edgeEffect: <Places rows={['▲▲▲▲▲', '▲○○○▲', '▲○○○▲', '▲▲▲▲▲']} />,
  neighboursAlike: <Places rows={['▲▲▲△○○', '▲▲△○○○', '▲△○○▽▽']} />,
  moran: <Places rows={['▲▲▲△○○', '▲▲△○○○', '▲△○○▽▽']} />,
  bay: (
    <SideView>
      <path d="M20,8 H140 M20,56 H140" strokeWidth="3" />
      <path d="M80,8 V48" strokeWidth="4" />
      <path d="M32,12 H68 M92,12 H128" stroke="var(--lamp-line)" strokeWidth="4" />
      <text x="50" y="36">
        A
      </text>
      <text x="110" y="36">
        B
      </text>
    </SideView>
  ),
  floodDepth: (
    <SideView>
      <path d="M22,36 H138 V54 H22 Z" fill="var(--water)" stroke="none" />
      <path d="M20,20 V56 H140 V20" strokeWidth="3" />
      <path d="M50,24 L54,54 H74 L78,24 Z M92,24 L96,54 H116 L120,24 Z" fill="var(--pot)" />
      <path d="M12,36 V54 M9,36 H15 M9,54 H15" />
    </SideView>
  ),
  deadVolume: (
    <SideView>
      <path d="M42,22 H118 V56 H42 Z" fill="var(--water)" stroke="none" />
      <path d="M42,48 H118 V56 H42 Z" fill="var(--line-strong)" stroke="none" />
      <path d="M40,12 V58 H120 V12" strokeWidth="3" />
      <path d="M80,4 V48" strokeWidth="3" />
    </SideView>
  ),
  siphon: (
    <SideView>
      <path d="M22,30 H98 V56 H22 Z" fill="var(--water)" stroke="none" />
      <path d="M20,12 V58 H100 V12" strokeWidth="3" />
      <path d="M84,50 V24 H120 V62" strokeWidth="4" />
    </SideView>
  ),
  beam: (
    <SideView>
      <path d="M60,10 H100" stroke="var(--lamp-line)" strokeWidth="5" />
      <path d="M80,12 L48,58 M80,12 L112,58" />
      <path d="M58,44 Q80,58 102,44" fill="none" />
    </SideView>
  ),
  reflectance: (
    <SideView>
      <path d="M120,8 V58" strokeWidth="4" />
      <path d="M36,12 L116,32 L40,54" fill="none" />
      <path d="M52,46 L40,54 L54,56" fill="none" />
    </SideView>
  ),
  evenness: (
    <SideView>
      <path d="M14,30 H146" strokeDasharray="4 3" />
      <path d="M14,48 Q46,8 80,26 T146,44" fill="none" strokeWidth="2" />
      <circle cx="14" cy="48" r="4" fill="var(--accent)" stroke="none" />
    </SideView>
  ),
  dli: (
    <SideView>
      <path d="M40,20 H120 V54 H40 Z" fill="var(--lamp)" stroke="var(--lamp-line)" />
      <path d="M14,54 H146" />
    </SideView>
  ),
  spread: <Bell from={55} to={105} />,
  interval: (
    <SideView>
      <path d="M30,24 H110 M30,18 V30 M110,18 V30" strokeWidth="2" />
      <circle cx="70" cy="24" r="4" fill="var(--accent)" stroke="none" />
      <path d="M20,44 V10" strokeDasharray="3 3" />
      <text x="20" y="58">
        0
      </text>
    </SideView>
  ),
  standardisedEffect: <Bell from={80} to={105} second />,
  interaction: (
    <SideView>
      <path d="M40,48 L120,12" strokeWidth="2" />
      <path d="M40,40 L120,46" strokeWidth="2" strokeDasharray="5 3" />
      <text x="30" y="50">
        A
      </text>
      <text x="130" y="50">
        B
      </text>
    </SideView>
  ),
  groups: (
    <SideView>
      <circle cx="40" cy="18" r="4" fill="var(--accent)" stroke="none" />
      <circle cx="80" cy="24" r="4" fill="var(--accent)" stroke="none" />
      <circle cx="120" cy="40" r="4" fill="var(--accent)" stroke="none" />
      <text x="40" y="60">
        a
      </text>
      <text x="80" y="60">
        ab
      </text>
      <text x="120" y="60">
        b
      </text>
    </SideView>
  ),
};

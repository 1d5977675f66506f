import { useCallback } from 'react';
import type { Findings } from '../../engine/findings';
import { plantsFigure, type FigureSize } from '../../print/report';
import { Section } from '../../ui';
import { percentOf } from '../../words';
import { FigureView } from './FigureView';

/** Every plant with the means on top: what the answers rest on, to be seen with one's own eyes. */
export function PlantsPicture({ findings }: { findings: Findings }) {
  const draw = useCallback((size: FigureSize) => plantsFigure(findings, size), [findings]);
  if (findings.design.tested.length === 0) return null;
  return (
    <Section title={`Every plant, with means and ${percentOf(findings)} intervals`}>
      <FigureView draw={draw} testId="plants-figure" />
    </Section>
  );
}

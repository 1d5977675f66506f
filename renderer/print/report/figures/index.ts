export { quantileFigure, residualFigure, spreadFigure } from './checks';
export { figureFile, type Figure, type FigureSize } from './draw';
export { meansFigure } from './means';
export { plantsFigure } from './plants';
export { rackFigure } from './rack';
export { randomisationFigure } from './randomisation';
export { sensitivityFigure } from './sensitivity';
export { seriesFigure } from './series';

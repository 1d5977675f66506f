export { quantileFigure, residualFigure, spreadFigure } from './checks';
export { figureFile, type Figure, type FigureSize } from './draw';
export { meansFigure } from './means';
export { redrawFigure } from './redraw';
export { sensitivityFigure } from './sensitivity';
export { seriesFigure } from './series';

export { ChartSide } from './ChartSide';
export { PRINT_OPTIONS, printOptionsWith, readLabels, useBlinded } from './kept';

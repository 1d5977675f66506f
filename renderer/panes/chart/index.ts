export { ChartSide } from './ChartSide';
export { useBlinded } from './kept';

export { ChartSide } from './ChartSide';

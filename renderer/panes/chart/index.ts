export { ChartSide } from './ChartSide';
export {
  PRINT_OPTIONS,
  PRINTERS,
  printOptionsWith,
  readLabels,
  readPrinters,
  useBlinded,
  type Printers,
} from './kept';

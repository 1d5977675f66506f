export {
  alongTerms,
  jointContrasts,
  termColumnSets,
  termContrasts,
  termDirections,
} from './directions';
export type { TermColumns, TestOrder } from './directions';

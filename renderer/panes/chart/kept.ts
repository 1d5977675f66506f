import { defaultOptions, type PrintableName, type PrintOptions } from '../../print';
import { useKept, type Kept } from '../../store/context';

/** What is printed, and how: labels and printer stay the same from visit to visit. */
export const PRINTED: Kept<PrintableName> = { name: 'chart.printed', initial: 'tray-charts' };
export const PRINT_OPTIONS: Kept<PrintOptions> = {
  name: 'chart.options',
  initial: defaultOptions('A4'),
};

/** Whether pages are made without treatments; then the rack beside them tells none either. */
export function useBlinded(): boolean {
  const [options] = useKept(PRINT_OPTIONS);
  return options.blinded;
}

import type { Kept } from '../store/context';

/** The example that is open, the step that is shown, and whether its panel is unfolded. */
export interface ExampleShown {
  name: string;
  step: number;
  open: boolean;
  /** Of the plan that was opened with it; any other plan shows none. */
  copyId: string;
}

export const EXAMPLE_SHOWN: Kept<ExampleShown | null> = { name: 'example', initial: null };

import { Component, type ReactNode } from 'react';

interface Props {
  /** What is drawn in place of the part that failed. */
  fallback: (error: Error, again: () => void) => ReactNode;
  /** Another of these, and the part is tried anew: the plan, the stage. */
  resetOn: readonly unknown[];
  children: ReactNode;
}

interface State {
  error: Error | null;
  of: readonly unknown[];
}

/** Keeps what one part throws while it is drawn from the parts around it. */
export class ErrorBoundary extends Component<Props, State> {
  override state: State = { error: null, of: this.props.resetOn };

  static getDerivedStateFromError(thrown: unknown): Partial<State> {
    return { error: thrown instanceof Error ? thrown : new Error(String(thrown)) };
  }

  static getDerivedStateFromProps(props: Props, state: State): Partial<State> | null {
    const same =
      props.resetOn.length === state.of.length &&
      props.resetOn.every((one, i) => Object.is(one, state.of[i]));
    return same ? null : { error: null, of: props.resetOn };
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (!error) return this.props.children;
    return this.props.fallback(error, () => this.setState({ error: null }));
  }
}

import { useId, type ReactNode } from 'react';
import { Explained } from './terms/Explained';

/** A titled group in an inspector or a pane. */
export function Section(props: {
  title: string;
  actions?: ReactNode;
  children: ReactNode;
  testId?: string;
}) {
  const id = useId();
  return (
    <section className="section" aria-labelledby={id} data-testid={props.testId}>
      <header className="section-head">
        <h3 id={id}>
          <Explained text={props.title} stops />
        </h3>
        {props.actions ? <div className="section-actions">{props.actions}</div> : null}
      </header>
      {props.children}
    </section>
  );
}

/** Fields side by side. */
export function FieldRow(props: { children: ReactNode }) {
  return <div className="field-row">{props.children}</div>;
}

/** Says what is missing here and what to do next. */
export function EmptyState(props: { title: string; children?: ReactNode; actions?: ReactNode }) {
  return (
    <div className="empty-state">
      <h3>{props.title}</h3>
      {props.children ? <div className="empty-text">{props.children}</div> : null}
      {props.actions ? <div className="empty-actions">{props.actions}</div> : null}
    </div>
  );
}

/** Name and value pairs. */
export function Facts(props: { rows: readonly (readonly [string, ReactNode])[] }) {
  return (
    <dl className="facts">
      {props.rows.map(([name, value]) => (
        <div key={name}>
          <dt>
            <Explained text={name} />
          </dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

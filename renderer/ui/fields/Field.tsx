import { useId, type ReactNode } from 'react';
import { Explained } from '../terms/Explained';

/** Label above, control below, an optional remark under it. */
export function Field(props: {
  label: string;
  remark?: string | undefined;
  problem?: string | null | undefined;
  /** Takes the room of two fields beside others: what can be chosen is long. */
  wide?: boolean;
  children: (id: string, describedBy: string | undefined) => ReactNode;
}) {
  const id = useId();
  const remarkId = `${id}-remark`;
  const said = props.problem ?? props.remark;
  return (
    <div className={props.wide ? 'field field-wide' : 'field'}>
      <label htmlFor={id}>
        <Explained text={props.label} />
      </label>
      {props.children(id, said ? remarkId : undefined)}
      {said ? (
        <p id={remarkId} className={props.problem ? 'field-problem' : 'field-remark'}>
          {said}
        </p>
      ) : null}
    </div>
  );
}

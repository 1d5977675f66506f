/** A colour ramp with figures under it. */
export function Ramp(props: {
  label: string;
  unit: string;
  colour: (share: number) => string;
  low: string;
  middle?: string;
  high: string;
}) {
  const steps = 32;
  return (
    <figure className="ramp">
      <figcaption>
        {props.label} <span className="table-unit">{props.unit}</span>
      </figcaption>
      <div className="ramp-bar" aria-hidden="true">
        {Array.from({ length: steps }, (_, i) => (
          <span key={i} style={{ background: props.colour(i / (steps - 1)) }} />
        ))}
      </div>
      <div className="ramp-figures">
        <span>{props.low}</span>
        {props.middle ? <span>{props.middle}</span> : null}
        <span>{props.high}</span>
      </div>
    </figure>
  );
}

/** Keys and what they do. */
export function Keys(props: {
  keys: readonly (readonly [key: string, does: string])[];
  testId?: string;
}) {
  return (
    <dl className="keys" data-testid={props.testId}>
      {props.keys.map(([key, does]) => (
        <div key={key}>
          <dt>{key}</dt>
          <dd>{does}</dd>
        </div>
      ))}
    </dl>
  );
}

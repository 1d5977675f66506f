/** Four pots on a shelf under a level line of light. */
export function Wordmark(props: { size?: number }) {
  const size = props.size ?? 22;
  return (
    <svg width={size} height={size} viewBox="0 0 24 24" aria-hidden="true">
      <path d="M3,4 H21" stroke="var(--lamp)" strokeWidth="3" strokeLinecap="round" />
      <path d="M2,20 H22" stroke="var(--accent)" strokeWidth="2.5" strokeLinecap="round" />
      {[5, 9.7, 14.3, 19].map((x) => (
        <path key={x} d={`M${x - 1.7},12 h3.4 l-0.6,6 h-2.2 z`} fill="var(--accent)" />
      ))}
    </svg>
  );
}

export type MarkSeverity = 'stop' | 'warn' | 'note';

const words: Record<MarkSeverity, string> = {
  stop: 'Stop',
  warn: 'Warning',
  note: 'Note',
};

/** Shape carries the severity, colour repeats it: octagon, triangle, circle. */
export function SeverityMark(props: { severity: MarkSeverity; size?: number }) {
  const size = props.size ?? 16;
  return (
    <svg
      className={`mark mark-${props.severity}`}
      width={size}
      height={size}
      viewBox="0 0 16 16"
      role="img"
      aria-label={words[props.severity]}
    >
      {props.severity === 'stop' ? (
        <path d="M5,1 H11 L15,5 V11 L11,15 H5 L1,11 V5 Z" />
      ) : props.severity === 'warn' ? (
        <path d="M8,1 L15.5,14.5 H0.5 Z" />
      ) : (
        <circle cx="8" cy="8" r="7" />
      )}
      <text
        x="8"
        y={props.severity === 'warn' ? 13 : 12}
        textAnchor="middle"
        fontSize="10.5"
        fontWeight="800"
      >
        {props.severity === 'note' ? 'i' : '!'}
      </text>
    </svg>
  );
}

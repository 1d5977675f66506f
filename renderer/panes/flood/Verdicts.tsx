import type { FloodVerdict } from '../../derive';

const signs: Record<FloodVerdict['level'], { sign: string; word: string }> = {
  good: { sign: '✓', word: 'Good' },
  close: { sign: '≈', word: 'Close' },
  bad: { sign: '✕', word: 'Flaw' },
  unknown: { sign: '?', word: 'Unknown' },
};

/** Verdicts in words; a sign carries the level, colour repeats it. Flaws come first. */
export function Verdicts({ verdicts }: { verdicts: readonly FloodVerdict[] }) {
  const order = ['bad', 'unknown', 'close', 'good'];
  const sorted = [...verdicts].sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
  return (
    <ul className="verdicts" data-testid="verdicts">
      {sorted.map((v) => (
        <li key={`${v.topic} ${v.text}`} className={`verdict verdict-${v.level}`}>
          <span className="verdict-sign" role="img" aria-label={signs[v.level].word}>
            {signs[v.level].sign}
          </span>
          <span>
            <strong>{v.topic}.</strong> {v.text}
            {v.remedy ? <em> {v.remedy}</em> : null}
          </span>
        </li>
      ))}
    </ul>
  );
}

import { markSchema } from '../../../shared-types/records';
import { DRAWN_MARK, MARK_LOOKS } from '../../canvas/potMarks';
import { PROGRESS } from './look';

const items = [
  ['none', 'nothing recorded yet'],
  ['some', 'recorded in part'],
  ['all', 'all recorded'],
] as const;

export function RecordsLegend() {
  return (
    <>
      {items.map(([key, text]) => (
        <span key={key} className="legend-item">
          <svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">
            <circle cx="8" cy="8" r="7" fill={PROGRESS[key].fill} stroke="var(--line-strong)" />
          </svg>
          {text}
        </span>
      ))}
      {markSchema.shape.mark.options.map((mark) => (
        <span key={mark} className="legend-item">{`${MARK_LOOKS[DRAWN_MARK[mark]]}: ${mark}`}</span>
      ))}
      <span className="legend-item">dotted ring, i: an incident is logged</span>
    </>
  );
}

import type { SkeletonRow } from '../../engine/trial';
import { Table } from '../../ui';

/** Sources, error terms and degrees of freedom of the analysis that the design asks for. */
export function Skeleton(props: { caption: string; rows: readonly SkeletonRow[] }) {
  const { rows } = props;
  return (
    <Table<SkeletonRow>
      caption={props.caption}
      showCaption
      testId="skeleton-table"
      rows={rows}
      rowKey={(row) => `${row.stratum} ${row.source}`}
      columns={[
        {
          key: 'source',
          head: 'Source',
          cell: (row) => (row.isError ? <em>{row.source}</em> : row.source),
        },
        { key: 'judged', head: 'Compared with', cell: (row) => judgedBy(row, rows) },
        { key: 'df', head: 'df', numeric: true, cell: (row) => row.df },
      ]}
    />
  );
}

/** The part that a line plays: what a factor is held against, or that it serves for that. */
export function judgedBy(row: SkeletonRow, rows: readonly SkeletonRow[]): string {
  if (row.isError) {
    const judges = rows.some(
      (other) => other.factorIds.length > 0 && other.stratum === row.stratum,
    );
    if (!judges) return 'no factor';
    return row.df > 0 ? 'error term' : 'no error term left';
  }
  if (row.factorIds.length === 0) return 'taken out first';
  const error = rows.find((other) => other.isError && other.stratum === row.stratum);
  return error && error.df > 0 ? error.source : 'nothing';
}

import type { SkeletonRow } from '../../derive';
import { Table } from '../../ui';

/** The analysis of variance with sources and degrees of freedom only, as fixed before planting. */
export function Skeleton(props: { caption: string; rows: readonly SkeletonRow[] }) {
  return (
    <Table<SkeletonRow>
      caption={props.caption}
      showCaption
      rows={props.rows}
      rowKey={(row) => `${row.stratum} ${row.source}`}
      columns={[
        {
          key: 'source',
          head: 'Source',
          cell: (row) => (row.isError ? <em>{row.source}</em> : row.source),
        },
        { key: 'stratum', head: 'Varies among', cell: (row) => row.stratum },
        { key: 'df', head: 'df', numeric: true, cell: (row) => row.df },
      ]}
    />
  );
}

// The feed and the volts of each opening as the schedule shows them.
import { figure, type FeedRow } from '../../../core/power/index.ts'
import type { ScheduleRow } from '../../../core/schedule/index.ts'
import type { TableColumn } from '../../ui/index.ts'
import { useFeeds } from './power-state.ts'
import './power.css'

export const feedColumn = 'feed'
export const voltsColumn = 'volts'

const feedFor = (id: string): FeedRow | null => useFeeds.getState().rows[id] ?? null

const feedText = (row: FeedRow | null): string =>
  row === null ? '' : row.feed === '' ? 'not fed yet' : row.notFed.length > 0 ? `${row.feed} ?` : row.feed

const voltsText = (row: FeedRow | null): string => {
  if (row === null || row.device === null) return ''
  if (row.volts === null) return row.verdict === 'not met' ? 'cannot be fed' : '?'
  return figure(row.volts, 1)
}

const markFor = (row: FeedRow | null): string =>
  row?.verdict === 'not met' ? 'broken' : row?.verdict === 'not known' ? 'open' : ''

// They listen for themselves: the table draws a row again only when its row changed, and volts change with another's cable.
function FeedCell({ id }: { readonly id: string }) {
  const row = useFeeds((state) => state.rows[id] ?? null)
  return (
    <span className={row !== null && (row.feed === '' || row.notFed.length > 0) ? 'open' : ''}>
      {feedText(row)}
    </span>
  )
}

function VoltsCell({ id }: { readonly id: string }) {
  const row = useFeeds((state) => state.rows[id] ?? null)
  return <span className={`feed-volts ${markFor(row)}`}>{voltsText(row)}</span>
}

/** What feeds an opening, and the volts of its device that is worst off. */
export const feedTableColumns: readonly TableColumn<ScheduleRow>[] = [
  {
    key: feedColumn,
    heading: 'Feed',
    width: 84,
    align: 'start',
    sortable: false,
    text: (row) => feedText(feedFor(row.id)),
    cell: (row) => <FeedCell id={row.id} />,
  },
  {
    key: voltsColumn,
    heading: 'Lowest volts',
    width: 62,
    align: 'end',
    sortable: false,
    text: (row) => voltsText(feedFor(row.id)),
    cell: (row) => <VoltsCell id={row.id} />,
  },
]

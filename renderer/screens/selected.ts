// The openings a selection covers, in the order they stand.
import type { RowGroup } from '../../core/schedule/index.ts'
import type { TableSelection } from '../ui/index.ts'
import { useWindow } from './window-state.ts'

/** Ids of the rows between anchor and focus in these groups; folded groups are passed over. */
export function openingsBetween(
  groups: readonly RowGroup[],
  collapsed: ReadonlySet<string>,
  selection: TableSelection | null,
): readonly string[] {
  if (selection === null || selection.form === 'heading') return []
  if (selection.form === 'group')
    return groups.find((group) => group.key === selection.groupKey)?.rows.map((row) => row.id) ?? []
  const { anchor: from, focus: to } = selection
  if (from.rowKey === to.rowKey) {
    // The usual case, asked with every step of the cursor: no list of all ids for it.
    const shown = groups.some(
      (group) => !collapsed.has(group.key) && group.rows.some((row) => row.id === from.rowKey),
    )
    return shown ? [from.rowKey] : []
  }
  const ids = groups.flatMap((group) =>
    collapsed.has(group.key) ? [] : group.rows.map((row) => row.id as string),
  )
  const [anchor, focus] = [ids.indexOf(from.rowKey), ids.indexOf(to.rowKey)]
  if (anchor < 0 || focus < 0) return []
  return ids.slice(Math.min(anchor, focus), Math.max(anchor, focus) + 1)
}

/** The openings selected now. */
export function selectedOpenings(): readonly string[] {
  const { groups, collapsed, arrangement, selection } = useWindow.getState()
  return openingsBetween(groups, arrangement.group === 'nothing' ? new Set() : collapsed, selection)
}

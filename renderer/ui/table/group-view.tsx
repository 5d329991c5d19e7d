import { memo } from 'react'
import type { TableGroup } from './types.ts'

export const groupId = (table: string, itemIndex: number): string => `${table}-g${itemIndex}`

export interface GroupViewProps {
  readonly table: string
  readonly group: TableGroup
  readonly itemIndex: number
  readonly columnCount: number
  readonly top: number
  readonly height: number
  readonly width: number
  readonly active: boolean
  readonly canToggle: boolean
}

/** A heading between rows. A click, or a key while it is the place one stands at, folds it. */
export const GroupView = memo(function GroupView(props: GroupViewProps) {
  const { group, itemIndex, active, canToggle } = props
  const open = group.collapsed !== true
  return (
    <div
      id={groupId(props.table, itemIndex)}
      role="row"
      aria-rowindex={itemIndex + 2}
      aria-level={group.level}
      aria-expanded={canToggle ? open : undefined}
      data-group={group.key}
      className={active ? 'table-group active' : 'table-group'}
      style={{ top: props.top, height: props.height, width: props.width }}
    >
      <div role="gridcell" aria-colindex={1} aria-colspan={props.columnCount} className="group-cell">
        <span className="group-title" style={{ paddingInlineStart: 8 + (group.level - 1) * 16 }}>
          {canToggle && (
            <svg viewBox="0 0 10 10" className={open ? 'fold open' : 'fold'} aria-hidden="true">
              <path d="M3 1 L8 5 L3 9 Z" />
            </svg>
          )}
          {group.title} <span className="group-count">{group.count}</span>
        </span>
      </div>
    </div>
  )
})

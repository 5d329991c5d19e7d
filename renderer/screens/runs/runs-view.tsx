import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import type { RunsOverview } from '../../../core/contract/index.ts'
import type { RunColumn, RunRow } from '../../../core/runs/index.ts'
import { ask } from '../../bridge.ts'
import {
  Button,
  Choice,
  Table,
  type CellEdit,
  type EditHow,
  type LeftOut,
  type TableHandle,
  type TableItem,
  type TableSelection,
} from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { tell, type OpenJob } from '../window-state.ts'
import { carryOut, changeRecords, typeCells } from './changes.ts'
import { Conductors } from './conductors-view.tsx'
import { Findings } from './findings-view.tsx'
import { compareRuns, runTableColumns, type GridRow } from './run-columns.tsx'
import { setRuns, useRuns, type RunsShown } from './runs-state.ts'

const everything = 'all'
const blankRowsAtFirst = 40

let rowsToldLast: ReadonlyMap<string, { readonly told: string; readonly row: GridRow }> = new Map()

/** A row that says the same as last time keeps its object, so that only what changed is drawn anew. */
function sameRows(rows: readonly RunRow[]): readonly GridRow[] {
  const kept = rows.map((run) => {
    const told = JSON.stringify(run)
    const known = rowsToldLast.get(run.id)
    return known?.told === told ? known : { told, row: { key: run.id, run } }
  })
  rowsToldLast = new Map(kept.map((each) => [each.row.key, each]))
  return kept.map(({ row }) => row)
}

const itemOfRow = new WeakMap<GridRow, TableItem<GridRow>>()
function itemFor(row: GridRow): TableItem<GridRow> {
  const known = itemOfRow.get(row) ?? { form: 'row', key: row.key, row }
  itemOfRow.set(row, known)
  return known
}

export function RunsView({
  job,
  overview,
  onAdd,
}: {
  readonly job: OpenJob
  readonly overview: RunsOverview
  readonly onAdd: () => void
}) {
  const { selection, sort, levelId, sourceId, shown } = useRuns()
  const starts = useAsked('runs.starts', {})
  const [blankRows, setBlankRows] = useState(blankRowsAtFirst)
  const [widths, setWidths] = useState<Readonly<Record<string, number>>>({})
  const table = useRef<TableHandle>(null)
  const rows = useMemo(() => sameRows(overview.rows), [overview.rows])
  const { units } = job.frame.job
  const writable = job.state.readOnly === null

  const items = useMemo(() => {
    const wanted = rows.filter(
      ({ run }) =>
        run !== null &&
        (levelId === null || run.levelId === levelId) &&
        (sourceId === null || run.sourceId === sourceId) &&
        (shown === 'all' || run.questions.length > 0),
    )
    if (sort !== null) {
      const compare = compareRuns(sort.columnKey as RunColumn, units)
      const sign = sort.direction === 'up' ? 1 : -1
      wanted.sort((one, other) =>
        one.run === null || other.run === null ? 0 : sign * compare(one.run, other.run),
      )
    }
    return wanted.map(itemFor)
  }, [rows, levelId, sourceId, shown, sort, units])
  // Made anew with every answer, so that what was typed into one gives way to the run it became.
  const blanks = useMemo(
    () =>
      writable
        ? Array.from({ length: blankRows }, (_, index) => itemFor({ key: `blank ${index + 1}`, run: null }))
        : [],
    // oxlint-disable-next-line exhaustive-deps
    [writable, blankRows, overview],
  )
  const all = useMemo(() => [...items, ...blanks], [items, blanks])
  const found = useMemo(() => Map.groupBy(overview.findings, ({ runId }) => runId ?? ''), [overview.findings])
  const columns = useMemo(
    () =>
      runTableColumns({
        units,
        writable,
        kinds: overview.kinds,
        starts: starts?.starts.map(({ name }) => name) ?? [],
        found,
      }),
    [units, writable, overview.kinds, starts, found],
  )

  const onEdit = useCallback(
    (cells: readonly CellEdit[], how: EditHow) =>
      typeCells(
        cells.map(({ rowKey, columnKey, text }) => ({ rowKey, column: columnKey as RunColumn, text })),
        how,
      ),
    [],
  )
  const onLeftOut = useCallback((leftOut: LeftOut) => {
    if (leftOut.rowsBeyond === 0) return
    setBlankRows((now) => now + leftOut.rowsBeyond)
    tell({
      weight: 'question',
      words: `${leftOut.rowsBeyond} rows did not fit below. There is room for them now: undo, and paste once more.`,
    })
  }, [])
  const onSort = useCallback(
    (columnKey: string) =>
      setRuns({
        sort:
          sort?.columnKey !== columnKey
            ? { columnKey, direction: 'up' }
            : sort.direction === 'up'
              ? { columnKey, direction: 'down' }
              : null,
      }),
    [sort],
  )
  const onRemoveRows = useCallback(
    (rowKeys: readonly string[]) => removeRuns(rowKeys.filter((key) => !key.startsWith('blank '))),
    [],
  )
  const onSelect = useCallback((next: TableSelection) => {
    const rowKey = next.form === 'cells' || next.form === 'rows' ? next.anchor.rowKey : null
    setRuns({
      selection: next,
      pointed: rowKey === null || rowKey.startsWith('blank ') ? null : { form: 'run', runId: rowKey },
    })
  }, [])
  useEffect(() => {
    if (selection?.form === 'cells') table.current?.reveal(selection.focus)
  }, [selection])
  const newRun = (): void => {
    const place = { rowKey: 'blank 1', columnKey: 'name' }
    setRuns({ selection: { form: 'cells', anchor: place, focus: place }, pointed: null })
    // Not before the table knows of it: taking the focus without a place, it goes to its first cell.
    requestAnimationFrame(() => table.current?.focus())
  }
  const chosenRun = selection?.form === 'cells' || selection?.form === 'rows' ? selection.anchor.rowKey : null

  return (
    <>
      <div className="filter-bar">
        <Choice
          label="Level"
          options={[
            { key: everything, label: 'All levels' },
            ...job.frame.levels.map(({ id, name, buildingId }) => ({
              key: id as string,
              label:
                job.frame.buildings.length > 1
                  ? `${job.frame.buildings.find((each) => each.id === buildingId)?.name ?? ''}, ${name}`
                  : name,
            })),
          ]}
          value={levelId ?? everything}
          onChange={(key) => setRuns({ levelId: key === everything ? null : key })}
        />
        <Choice
          label="From"
          options={[
            { key: everything, label: 'Everywhere' },
            ...overview.sources.map(({ id, mark }) => ({ key: id, label: mark })),
          ]}
          value={sourceId ?? everything}
          onChange={(key) => setRuns({ sourceId: key === everything ? null : key })}
        />
        <Choice
          label="Show"
          options={[
            { key: 'all', label: 'All runs' },
            { key: 'questions', label: 'With open questions' },
          ]}
          value={shown}
          onChange={(key) => setRuns({ shown: key as RunsShown })}
        />
        {writable && (
          <>
            <Button onPress={newRun}>New run</Button>
            <Button onPress={onAdd}>Add runs to openings</Button>
            <Button
              disabled={overview.fillable === 0}
              onPress={() =>
                void carryOut(ask('runs.fill', {}), 'No empty length has a route that says one.')
              }
            >
              {fillWords(overview)}
            </Button>
          </>
        )}
      </div>
      <Findings findings={overview.findings} />
      <div className="runs-table">
        <Table
          label="Runs"
          items={all}
          columns={columns}
          selection={selection}
          onSelect={onSelect}
          {...(writable ? { onEdit, onRemoveRows, onLeftOut } : {})}
          {...(sort === null ? {} : { sort })}
          onSort={onSort}
          widths={widths}
          onResize={(key, width) => setWidths((now) => ({ ...now, [key]: width }))}
          rowHeight={28}
          handle={table}
          empty={<p className="padded">No run answers to what is asked for above.</p>}
        />
      </div>
      {chosenRun !== null && !chosenRun.startsWith('blank ') && (
        <Conductors key={chosenRun} runId={chosenRun} locked={!writable} />
      )}
    </>
  )
}

const fillWords = ({ fillable, withoutRoute }: RunsOverview): string =>
  fillable === 0
    ? withoutRoute === 0
      ? 'No length is missing'
      : `No route for ${withoutRoute} empty lengths`
    : `Fill ${fillable} ${fillable === 1 ? 'length' : 'lengths'} from the routes`

function removeRuns(runIds: readonly string[]): void {
  if (runIds.length === 0) return
  const name = runIds.length === 1 ? 'Remove a run' : `Remove ${runIds.length} runs`
  void changeRecords(name, { remove: runIds.map((id) => ({ kind: 'run' as const, id })) })
}

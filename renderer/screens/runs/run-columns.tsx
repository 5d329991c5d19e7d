// The columns of the run list as the table wants them. A blank row at the end becomes a run when something is typed.
import {
  cableUnit,
  writeCableLength,
  type RunColumn,
  type RunRow,
  type WiringFinding,
} from '../../../core/runs/index.ts'
import type { Units } from '../../../core/job/index.ts'
import type { TableColumn } from '../../ui/index.ts'

export type GridRow = { readonly key: string; readonly run: RunRow | null }

interface Looks {
  readonly heading: string
  readonly width: number
  readonly align?: 'end'
  readonly grow?: boolean
}

const looks: Readonly<Record<RunColumn, Looks>> = {
  name: { heading: 'Run', width: 158 },
  from: { heading: 'From', width: 112 },
  to: { heading: 'To', width: 110 },
  cable: { heading: 'Cable', width: 150, grow: true },
  count: { heading: 'Cond.', width: 62, align: 'end' },
  size: { heading: 'Size', width: 78 },
  stranded: { heading: 'Solid or stranded', width: 92 },
  length: { heading: 'Length', width: 78, align: 'end' },
  notes: { heading: 'Notes', width: 110, grow: true },
}

const textOf = (run: RunRow, column: RunColumn, units: Units): string => {
  switch (column) {
    case 'count':
      return run.count === 0 ? '' : String(run.count)
    case 'size':
      return run.mixed ? 'mixed' : (run.size ?? '')
    case 'stranded':
      return run.stranded === null ? (run.mixed ? 'mixed' : '') : run.stranded ? 'stranded' : 'solid'
    case 'length':
      return run.lengthMetres === null ? '' : writeCableLength(run.lengthMetres, units)
    default:
      return run[column] ?? ''
  }
}

interface Told {
  readonly units: Units
  readonly writable: boolean
  readonly kinds: readonly string[]
  readonly starts: readonly string[]
  /** What is found about runs, by run. */
  readonly found: ReadonlyMap<string, readonly WiringFinding[]>
}

export function runTableColumns({
  units,
  writable,
  kinds,
  starts,
  found,
}: Told): readonly TableColumn<GridRow>[] {
  return (Object.keys(looks) as RunColumn[]).map((key) => {
    const { heading, width, align = 'start', grow = false } = looks[key]
    const questionOf = ({ run }: GridRow): string | undefined =>
      run?.questions.find(({ column }) => column === key)?.words ??
      (key === 'name' && run !== null
        ? found
            .get(run.id)
            ?.map(({ words }) => words)
            .join(' ')
        : undefined)
    return {
      key,
      heading,
      width,
      align,
      grow,
      ...(key === 'length' ? { unit: cableUnit(units) } : {}),
      frozen: key === 'name',
      marksRow: key === 'name',
      text: ({ run }) => (run === null ? '' : textOf(run, key, units)),
      mark: (row) => (questionOf(row) === undefined ? undefined : 'question'),
      note: questionOf,
      ...(writable ? { editable: () => true } : {}),
      ...(key === 'cable' && kinds.length > 0 ? { choices: () => kinds } : {}),
      ...(key === 'from' ? { choices: () => starts } : {}),
      ...(key === 'stranded' ? { choices: () => ['stranded', 'solid'] } : {}),
    }
  })
}

const comparer = new Intl.Collator('en', { numeric: true })

/** Compares two runs by one column; what is not known comes last. */
export function compareRuns(column: RunColumn, units: Units): (one: RunRow, other: RunRow) => number {
  return (one, other) => {
    if (column === 'length') return (one.lengthMetres ?? Infinity) - (other.lengthMetres ?? Infinity)
    const [first, second] = [textOf(one, column, units), textOf(other, column, units)]
    if ((first === '') !== (second === '')) return first === '' ? 1 : -1
    return comparer.compare(first, second)
  }
}

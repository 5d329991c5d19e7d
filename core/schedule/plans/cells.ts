// Text put into cells: read by its column, then set on opening and leaves.
import {
  counted,
  addRecord,
  asId,
  removeRecords,
  sentenceAbout,
  setFields,
  type Edit,
  type JobData,
  type Leaf,
  type Opening,
} from '../../job/index.ts'
import { scheduleColumn, type CellMeaning, type ColumnContext } from '../columns.ts'
import type { CellText, Command, CommandProblem } from '../commands.ts'
import { scheduleFrame, scheduleRow, type ScheduleRow } from '../rows.ts'
import {
  clipped,
  impossible,
  levelName,
  openingsNamed,
  planned,
  type NewId,
  type Planned,
} from './planned.ts'

type SetCells = Extract<Command, { does: 'set cells' }>

const howWords = { type: 'Set', paste: 'Paste', fill: 'Fill', clear: 'Clear' } as const

/** What is to become of one opening, gathered from all its cells. */
interface Wanted {
  readonly opening: Opening
  readonly fields: Record<string, unknown>
  leaves: 1 | 2 | null
  material: string | null | undefined
}

export function planCells(command: SetCells, data: JobData, newId: NewId): Planned {
  const context: ColumnContext = { units: data.job.units, frame: scheduleFrame(data) }
  const problems: CommandProblem[] = []
  const wanted = new Map<string, Wanted>()
  const columnsSet = new Set<string>()
  const rowsRead = new Map<string, ScheduleRow>()
  const rowOf = (opening: Opening): ScheduleRow => {
    const row = rowsRead.get(opening.id) ?? scheduleRow(data, opening)
    rowsRead.set(opening.id, row)
    return row
  }
  for (const cell of command.cells) {
    const opening = data.get('opening', cell.openingId)
    if (opening === undefined) return impossible('An opening in this change is no longer there.')
    const meaning = readCell(cell, opening, () => rowOf(opening), context)
    if ('sentence' in meaning) {
      problems.push(meaning)
      continue
    }
    columnsSet.add(scheduleColumn(cell.column).heading.toLowerCase())
    const entry = wanted.get(opening.id) ?? { opening, fields: {}, leaves: null, material: undefined }
    Object.assign(entry.fields, meaning.opening)
    if (meaning.leaves !== undefined) entry.leaves = meaning.leaves
    if (meaning.material !== undefined) entry.material = meaning.material
    wanted.set(opening.id, entry)
  }
  problems.push(...marksTwice(data, wanted))
  if (problems.length > 0 && command.unreadable === 'refuse') return { ok: false, problems }

  const edits: Edit[] = []
  const changed: Opening[] = []
  for (const each of wanted.values()) {
    const before = edits.length
    const set = setFields('opening', each.opening, each.fields as Partial<Opening>)
    if (set !== null) edits.push(set)
    edits.push(...leafEdits(data, each, newId))
    if (edits.length > before) changed.push(each.opening)
  }
  const read = command.cells.length - problems.length
  const what = columnsSet.size === 1 ? [...columnsSet][0] : counted(read, 'cell')
  const plan = planned(`${howWords[command.how]} ${what} of ${openingsNamed(changed)}`, edits)
  return plan.ok ? { ...plan, leftOut: problems } : plan
}

function readCell(
  cell: CellText,
  opening: Opening,
  row: () => ScheduleRow,
  context: ColumnContext,
): CellMeaning | CommandProblem {
  const column = scheduleColumn(cell.column)
  const refused = (sentence: string): CommandProblem => ({
    openingId: opening.id,
    column: cell.column,
    sentence: `${opening.mark}, ${column.heading.toLowerCase()}: ${sentence}`,
  })
  // What is shown, put back unchanged, sets nothing: a place put together from rooms does not become a person's words.
  const shown = column.text(row(), context)
  if (shown === cell.text || shown === cell.text.trim()) return {}
  if (column.read === undefined)
    return refused(`this is worked out; nothing can be put here. ${column.about}`)
  let reading = column.read(cell.text, context)
  // TBC and the like say that nobody knows yet, which is what a blank says.
  if (!reading.known && reading.blank) reading = column.read('', context)
  return reading.known ? reading.value : refused(sentenceAbout(clipped(cell.text), reading))
}

/** Marks that would stand twice on a level. Those cells are taken out of what is wanted. */
function marksTwice(data: JobData, wanted: ReadonlyMap<string, Wanted>): CommandProblem[] {
  const renamed = new Map(
    [...wanted].filter(
      ([, { opening, fields }]) => typeof fields['mark'] === 'string' && fields['mark'] !== opening.mark,
    ),
  )
  const levels = new Map<string, { staying: Set<string>; claimed: Map<string, Wanted> }>()
  const marksOf = (levelId: string) => {
    let marks = levels.get(levelId)
    if (marks === undefined) {
      const others = data.referring('opening', 'levelId', levelId).filter((each) => !renamed.has(each.id))
      const staying = new Set(others.map((each) => each.mark.toLowerCase()))
      levels.set(levelId, (marks = { staying, claimed: new Map() }))
    }
    return marks
  }
  const problems: CommandProblem[] = []
  for (const entry of renamed.values()) {
    const { staying, claimed } = marksOf(entry.opening.levelId)
    const key = (entry.fields['mark'] as string).toLowerCase()
    if (!staying.has(key) && !claimed.has(key)) {
      claimed.set(key, entry)
      continue
    }
    // A mark that is refused keeps its old place, which another may have counted on: that one is refused too.
    for (let refused: Wanted | undefined = entry; refused !== undefined;) {
      problems.push(markTaken(data, refused))
      const place: string = refused.opening.mark.toLowerCase()
      staying.add(place)
      refused = claimed.get(place)
      claimed.delete(place)
    }
  }
  return problems
}

function markTaken(data: JobData, { opening, fields }: Wanted): CommandProblem {
  const mark = fields['mark'] as string
  delete fields['mark']
  return {
    openingId: opening.id,
    column: 'mark',
    sentence: `${opening.mark}, mark: ${levelName(data.get('level', opening.levelId))} already has an opening ${mark}; expected a mark of its own.`,
  }
}

const sameOrder = (a: Leaf, b: Leaf): number => a.position - b.position

/** Brings the leaves to the number and material wanted. */
function leafEdits(data: JobData, { opening, leaves, material }: Wanted, newId: NewId): Edit[] {
  if (leaves === null && material === undefined) return []
  const standing = data.referring('leaf', 'openingId', opening.id).toSorted(sameOrder)
  const count = leaves ?? (standing.length > 1 ? 2 : 1)
  const edits: Edit[] = []
  const roles = count === 1 ? (['only'] as const) : (['active', 'inactive'] as const)
  roles.forEach((role, position) => {
    const leaf = standing[position]
    if (leaf === undefined) {
      edits.push(
        addRecord('leaf', {
          id: asId<'leaf'>(newId()),
          openingId: opening.id,
          position,
          role,
          widthMicrometres: null,
          material: material ?? standing[0]?.material ?? null,
        }),
      )
      return
    }
    // A leaf's own width was its share of the leaves there were.
    const fields: Partial<Leaf> =
      leaves === null || leaf.role === role ? {} : { role, widthMicrometres: null }
    const set = setFields('leaf', leaf, material === undefined ? fields : { ...fields, material })
    if (set !== null) edits.push(set)
  })
  const surplus = leaves === null ? [] : standing.slice(count).map((leaf) => leaf.id)
  if (surplus.length > 0) edits.push(...removeRecords(data, 'leaf', surplus).edits)
  return edits
}

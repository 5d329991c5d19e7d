// Openings made, copied, renumbered, moved and removed.
import {
  counted,
  addRecord,
  asId,
  markSequence,
  nextMark,
  compareMarks,
  removeRecords,
  setFields,
  type Edit,
  type Fitting,
  type JobData,
  type Level,
  type Opening,
} from '../../job/index.ts'
import type { Command } from '../commands.ts'
import {
  impossible,
  levelName,
  markWanted,
  marksOn,
  openingGone,
  openingsNamed,
  openingsOf,
  planned,
  type NewId,
  type Planned,
} from './planned.ts'

type Of<Does extends Command['does']> = Extract<Command, { does: Does }>

const levelGone = 'That level is no longer there; look at the list of levels again.'

/** An opening about which nothing is known but where it is and what it is called. */
export const blankOpening = (id: string, level: Level, mark: string): Opening => ({
  id: asId<'opening'>(id),
  levelId: level.id,
  mark,
  whereText: null,
  toSpaceId: null,
  fromSpaceId: null,
  widthMicrometres: null,
  heightMicrometres: null,
  thicknessMicrometres: null,
  hand: null,
  doorType: null,
  frameMaterial: null,
  fireLabelMinutes: null,
  fireLabelClass: null,
  hardwareSet: null,
  typicalId: null,
  furnishedBy: null,
  fittedBy: null,
  wiredBy: null,
  terminatedBy: null,
  serial: null,
  assetTag: null,
  installedOn: null,
  notes: null,
  sourceId: null,
  source: null,
})

export function planAddOpenings(command: Of<'add openings'>, data: JobData, newId: NewId): Planned {
  const level = data.get('level', command.levelId)
  if (level === undefined) return impossible(levelGone)
  const taken = new Set(marksOn(data, level.id).keys())
  const first = command.firstMark === null ? null : markWanted(command.firstMark)
  if (first !== null && 'sentence' in first) return impossible(first.sentence)
  if (first !== null && taken.has(first.mark.toLowerCase()))
    return impossible(`${level.name} already has an opening ${first.mark}; expected a mark of its own.`)
  let mark = first?.mark ?? markAfter(data, level)
  const edits: Edit[] = []
  const reveal: string[] = []
  while (reveal.length < command.count) {
    while (taken.has(mark.toLowerCase())) mark = nextMark(mark)
    const id = newId()
    edits.push(addRecord('opening', blankOpening(id, level, mark)))
    edits.push(
      addRecord('leaf', {
        id: asId<'leaf'>(newId()),
        openingId: asId<'opening'>(id),
        position: 0,
        role: 'only',
        widthMicrometres: null,
        material: null,
      }),
    )
    reveal.push(id)
    taken.add(mark.toLowerCase())
    mark = nextMark(mark)
  }
  return planned(`Add ${counted(command.count, 'opening')} to ${level.name}`, edits, reveal)
}

/** The mark that follows the last one on the level in people's order; an empty level starts at 1. */
function markAfter(data: JobData, level: Level): string {
  const marks = data.referring('opening', 'levelId', level.id).map((each) => each.mark)
  const last = marks.toSorted(compareMarks).at(-1)
  return last === undefined ? '1' : nextMark(last)
}

/** This mark or the first free one after it. `passed` remembers where earlier searches ended, so that many stay quick. */
function freeMark(first: string, taken: ReadonlySet<string>, passed: Map<string, string>): string {
  const seen: string[] = []
  let mark = first
  while (taken.has(mark.toLowerCase())) {
    seen.push(mark)
    mark = passed.get(mark) ?? nextMark(mark)
  }
  for (const each of seen) passed.set(each, mark)
  return mark
}

/** Copies stand on the same level with the next free mark. Serials, tags, dates and sources belong to the original alone. */
export function planDuplicate(command: Of<'duplicate openings'>, data: JobData, newId: NewId): Planned {
  const openings = openingsOf(data, command.openingIds)
  if (openings === null) return impossible(openingGone)
  const edits: Edit[] = []
  const reveal: string[] = []
  const takenOn = new Map<string, Set<string>>()
  const passedOn = new Map<string, Map<string, string>>()
  for (const opening of openings) {
    let taken = takenOn.get(opening.levelId)
    if (taken === undefined) {
      taken = new Set(marksOn(data, opening.levelId).keys())
      takenOn.set(opening.levelId, taken)
    }
    const passed = passedOn.get(opening.levelId) ?? new Map<string, string>()
    passedOn.set(opening.levelId, passed)
    const mark = freeMark(nextMark(opening.mark), taken, passed)
    taken.add(mark.toLowerCase())
    const id = asId<'opening'>(newId())
    reveal.push(id)
    edits.push(
      addRecord('opening', {
        ...opening,
        id,
        mark,
        serial: null,
        assetTag: null,
        installedOn: null,
        sourceId: null,
        source: null,
      }),
    )
    const leafIds = new Map<string, string>()
    for (const leaf of data.referring('leaf', 'openingId', opening.id)) {
      const leafId = newId()
      leafIds.set(leaf.id, leafId)
      edits.push(addRecord('leaf', { ...leaf, id: asId<'leaf'>(leafId), openingId: id }))
      for (const overlap of data.referring('leafOverlap', 'leafId', leaf.id))
        edits.push(
          addRecord('leafOverlap', {
            ...overlap,
            id: asId<'leafOverlap'>(newId()),
            leafId: asId<'leaf'>(leafId),
          }),
        )
    }
    const fittingIds = new Map<string, Fitting['id']>()
    for (const fitting of data.referring('fitting', 'openingId', opening.id)) {
      const fittingId = asId<'fitting'>(newId())
      fittingIds.set(fitting.id, fittingId)
      const leafId = fitting.leafId === null ? null : leafIds.get(fitting.leafId)
      edits.push(
        addRecord('fitting', {
          ...fitting,
          id: fittingId,
          openingId: id,
          leafId: leafId === undefined || leafId === null ? null : asId<'leaf'>(leafId),
          serial: null,
          installedOn: null,
        }),
      )
      for (const placement of data.referring('placement', 'fittingId', fitting.id))
        edits.push(addRecord('placement', { ...placement, id: asId<'placement'>(newId()), fittingId }))
      for (const value of data.referring('settingValue', 'fittingId', fitting.id))
        if (value.stage === 'designed')
          edits.push(
            addRecord('settingValue', {
              ...value,
              id: asId<'settingValue'>(newId()),
              fittingId,
              visitId: null,
            }),
          )
    }
    for (const link of data.referring('link', 'openingId', opening.id))
      edits.push(
        addRecord('link', {
          ...link,
          id: asId<'link'>(newId()),
          openingId: id,
          fromFittingId: fittingIds.get(link.fromFittingId ?? '') ?? null,
          toFittingId: fittingIds.get(link.toFittingId ?? '') ?? null,
        }),
      )
  }
  return planned(`Duplicate ${openingsNamed(openings)}`, edits, reveal)
}

export function planRenumber(command: Of<'renumber openings'>, data: JobData): Planned {
  const openings = openingsOf(data, command.openingIds)
  if (openings === null) return impossible(openingGone)
  const chosen = new Set<string>(openings.map((opening) => opening.id))
  const first = markWanted(command.firstMark)
  if ('sentence' in first) return impossible(first.sentence)
  const marks = markSequence(first.mark, openings.length)
  const standing = new Map<string, Map<string, string>>()
  const edits: Edit[] = []
  for (const [index, opening] of openings.entries()) {
    const mark = marks[index] as string
    const onLevel = standing.get(opening.levelId) ?? marksOn(data, opening.levelId)
    standing.set(opening.levelId, onLevel)
    const other = onLevel.get(mark.toLowerCase())
    if (other !== undefined && !chosen.has(other))
      return impossible(
        `${levelName(data.get('level', opening.levelId))} already has an opening ${mark}, which is not among those being renumbered.`,
      )
    const set = setFields('opening', opening, { mark })
    if (set !== null) edits.push(set)
  }
  return planned(`Renumber ${counted(openings.length, 'opening')} from ${first.mark}`, edits)
}

export function planMove(command: Of<'move openings'>, data: JobData): Planned {
  const openings = openingsOf(data, command.openingIds)
  if (openings === null) return impossible(openingGone)
  const level = data.get('level', command.levelId)
  if (level === undefined) return impossible(levelGone)
  const moving = openings.filter((opening) => opening.levelId !== level.id)
  const taken = new Set(marksOn(data, level.id).keys())
  for (const opening of moving) {
    const mark = opening.mark.toLowerCase()
    if (taken.has(mark))
      return impossible(`${level.name} would have the mark ${opening.mark} twice; renumber first.`)
    taken.add(mark)
  }
  const edits = moving.flatMap((opening) => setFields('opening', opening, { levelId: level.id }) ?? [])
  return planned(`Move ${openingsNamed(moving)} to ${level.name}`, edits)
}

export function planRemoveOpenings(command: Of<'remove openings'>, data: JobData): Planned {
  const openings = openingsOf(data, command.openingIds)
  if (openings === null) return impossible(openingGone)
  const removal = removeRecords(
    data,
    'opening',
    openings.map((opening) => opening.id),
  )
  return planned(`Remove ${openingsNamed(openings)}`, removal.edits)
}

// The job itself, its buildings and its levels.
import {
  counted,
  addRecord,
  asId,
  removeRecords,
  setFields,
  type Edit,
  type Job,
  type JobData,
} from '../../job/index.ts'
import type { Command } from '../commands.ts'
import { readDay } from '../columns.ts'
import { impossible, nameless, nextPosition, planned, type NewId, type Planned } from './planned.ts'

type Of<Does extends Command['does']> = Extract<Command, { does: Does }>

const buildingGone = 'That building is no longer there.'
const levelGone = 'That level is no longer there.'
const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase()

export function planSetJob(command: Of<'set job'>, data: JobData): Planned {
  const { name, scheduleDate } = command.fields
  const unnamed = name === undefined ? null : nameless(name, 'job')
  if (unnamed !== null) return impossible(unnamed)
  if (scheduleDate != null && readDay(scheduleDate) === null)
    return impossible(`"${scheduleDate}" is not a day; expected year-month-day such as 2026-03-14.`)
  const fields = name === undefined ? command.fields : { ...command.fields, name: name.trim() }
  const set = setFields('job', data.job, fields as Partial<Job>)
  return planned('Set job details', set === null ? [] : [set])
}

export function planAddBuilding(command: Of<'add building'>, data: JobData, newId: NewId): Planned {
  const name = command.name.trim()
  const unnamed = nameless(name, 'building')
  if (unnamed !== null) return impossible(unnamed)
  for (const other of data.all('building'))
    if (same(other.name, name)) return impossible(`The job already has a building called ${other.name}.`)
  const building = addRecord('building', {
    id: asId<'building'>(newId()),
    name,
    position: nextPosition(data.all('building')),
    address: null,
    sourceId: null,
    notes: null,
  })
  return planned(`Add building ${name}`, [building])
}

export function planRenameBuilding(command: Of<'rename building'>, data: JobData): Planned {
  const building = data.get('building', command.buildingId)
  if (building === undefined) return impossible(buildingGone)
  const name = command.name.trim()
  const unnamed = nameless(name, 'building')
  if (unnamed !== null) return impossible(unnamed)
  for (const other of data.all('building'))
    if (other.id !== building.id && same(other.name, name))
      return impossible(`The job already has a building called ${other.name}.`)
  const set = setFields('building', building, { name })
  return planned(`Rename ${building.name} to ${name}`, set === null ? [] : [set])
}

export function planRemoveBuilding(command: Of<'remove building'>, data: JobData): Planned {
  const building = data.get('building', command.buildingId)
  if (building === undefined) return impossible(buildingGone)
  const levels = data.referring('level', 'buildingId', building.id).length
  const removal = removeRecords(data, 'building', [building.id])
  if (removal.refusedBy !== null)
    return impossible(`${building.name} still has ${counted(levels, 'level')}; remove those first.`)
  return planned(`Remove building ${building.name}`, removal.edits)
}

export function planAddLevel(command: Of<'add level'>, data: JobData, newId: NewId): Planned {
  const building = data.get('building', command.buildingId)
  if (building === undefined) return impossible(buildingGone)
  const name = command.name.trim()
  const unnamed = nameless(name, 'level')
  if (unnamed !== null) return impossible(unnamed)
  const levels = data.referring('level', 'buildingId', building.id)
  const other = levels.find((each) => same(each.name, name))
  if (other !== undefined) return impossible(`${building.name} already has a level called ${other.name}.`)
  const level = addRecord('level', {
    id: asId<'level'>(newId()),
    buildingId: building.id,
    name,
    position: nextPosition(levels),
    elevationMetres: null,
    sourceId: null,
  })
  return planned(`Add level ${name}`, [level])
}

export function planRenameLevel(command: Of<'rename level'>, data: JobData): Planned {
  const level = data.get('level', command.levelId)
  if (level === undefined) return impossible(levelGone)
  const name = command.name.trim()
  const unnamed = nameless(name, 'level')
  if (unnamed !== null) return impossible(unnamed)
  const other = data
    .referring('level', 'buildingId', level.buildingId)
    .find((each) => each.id !== level.id && same(each.name, name))
  if (other !== undefined) return impossible(`The building already has a level called ${other.name}.`)
  const set = setFields('level', level, { name })
  return planned(`Rename ${level.name} to ${name}`, set === null ? [] : [set])
}

/** Levels trade places with their neighbour; positions are made whole again where they were uneven. */
export function planMoveLevel(command: Of<'move level'>, data: JobData): Planned {
  const level = data.get('level', command.levelId)
  if (level === undefined) return impossible(levelGone)
  const levels = data
    .referring('level', 'buildingId', level.buildingId)
    .toSorted((a, b) => a.position - b.position || (a.id < b.id ? -1 : 1))
  const at = levels.findIndex((each) => each.id === level.id)
  const to = Math.min(levels.length - 1, Math.max(0, at + command.by))
  levels.splice(to, 0, ...levels.splice(at, 1))
  const edits = levels.flatMap((each, position): Edit[] => {
    const set = setFields('level', each, { position })
    return set === null ? [] : [set]
  })
  return planned(`Move level ${level.name} ${command.by < 0 ? 'up' : 'down'} the list`, edits)
}

export function planRemoveLevel(command: Of<'remove level'>, data: JobData): Planned {
  const level = data.get('level', command.levelId)
  if (level === undefined) return impossible(levelGone)
  const openings = data.referring('opening', 'levelId', level.id).length
  const removal = removeRecords(data, 'level', [level.id])
  if (removal.refusedBy !== null)
    return impossible(`${level.name} still has ${counted(openings, 'opening')}; move or remove those first.`)
  return planned(`Remove level ${level.name}`, removal.edits)
}

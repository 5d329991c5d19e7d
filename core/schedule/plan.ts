import type { JobData } from '../job/index.ts'
import type { Command } from './commands.ts'
import { planCells } from './plans/cells.ts'
import {
  planAddOpenings,
  planDuplicate,
  planMove,
  planRemoveOpenings,
  planRenumber,
} from './plans/openings.ts'
import {
  planAddBuilding,
  planAddLevel,
  planMoveLevel,
  planRemoveBuilding,
  planRemoveLevel,
  planRenameBuilding,
  planRenameLevel,
  planSetJob,
} from './plans/places.ts'
import type { NewId, Planned, Stamp } from './plans/planned.ts'
import { planRecords } from './plans/records.ts'
import { planSettings } from './plans/settings.ts'
import {
  planAddFitting,
  planAddTypical,
  planAddTypicalFitting,
  planRemoveFitting,
  planRemoveTypical,
  planRemoveTypicalFitting,
  planSetFitting,
  planSetTypical,
  planSetTypicalFitting,
} from './plans/typicals.ts'

export { blankOpening } from './plans/openings.ts'
export type { NewId, Planned, Stamp } from './plans/planned.ts'

/** Turns what a person asks into named edits that can be taken back, or into sentences that say why not. Changes nothing. */
export function plan(command: Command, data: JobData, newId: NewId, stamp: Stamp | null = null): Planned {
  switch (command.does) {
    case 'set cells':
      return planCells(command, data, newId)
    case 'add openings':
      return planAddOpenings(command, data, newId)
    case 'duplicate openings':
      return planDuplicate(command, data, newId)
    case 'renumber openings':
      return planRenumber(command, data)
    case 'move openings':
      return planMove(command, data)
    case 'remove openings':
      return planRemoveOpenings(command, data)
    case 'set job':
      return planSetJob(command, data)
    case 'add building':
      return planAddBuilding(command, data, newId)
    case 'rename building':
      return planRenameBuilding(command, data)
    case 'remove building':
      return planRemoveBuilding(command, data)
    case 'add level':
      return planAddLevel(command, data, newId)
    case 'rename level':
      return planRenameLevel(command, data)
    case 'move level':
      return planMoveLevel(command, data)
    case 'remove level':
      return planRemoveLevel(command, data)
    case 'add typical':
      return planAddTypical(command, data, newId)
    case 'set typical':
      return planSetTypical(command, data)
    case 'remove typical':
      return planRemoveTypical(command, data)
    case 'add typical fitting':
      return planAddTypicalFitting(command, data, newId)
    case 'set typical fitting':
      return planSetTypicalFitting(command, data)
    case 'remove typical fitting':
      return planRemoveTypicalFitting(command, data)
    case 'add fitting':
      return planAddFitting(command, data, newId)
    case 'set fitting':
      return planSetFitting(command, data, newId)
    case 'remove fitting':
      return planRemoveFitting(command, data)
    case 'set settings':
      return planSettings(command, data, newId, stamp)
    case 'change records':
      return planRecords(command, data, newId, stamp)
  }
}

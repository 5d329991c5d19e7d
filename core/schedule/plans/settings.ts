// Settings as designed, as set and as found, asked for as a command.
import { counted } from '../../job/index.ts'
import type { Edit, JobData } from '../../job/index.ts'
import { planSetting } from '../../settings/index.ts'
import type { Command } from '../commands.ts'
import { planned, type NewId, type Planned, type Stamp } from './planned.ts'

const verbs = { designed: 'Design', set: 'Note as set', found: 'Note as found' } as const

export function planSettings(
  { stage, sets, visitId }: Extract<Command, { does: 'set settings' }>,
  data: JobData,
  newId: NewId,
  stamp: Stamp | null,
): Planned {
  const { who, at } = stamp ?? { who: null, at: null }
  const edits: Edit[] = []
  const names: string[] = []
  for (const { values, targets } of sets) {
    const made = planSetting(data, { stage, values, targets, visitId, who, at }, newId)
    if (!made.ok)
      return {
        ok: false,
        problems: made.problems.map(({ openingId, sentence }) => ({ openingId, column: null, sentence })),
      }
    edits.push(...made.change.edits)
    names.push(made.change.name)
  }
  const fittings = sets.reduce((sum, { targets }) => sum + targets.length, 0)
  const [only] = names
  const name =
    names.length === 1 && only !== undefined
      ? only
      : `${verbs[stage]} the settings of ${counted(fittings, 'fitting')}`
  return planned(name, edits)
}

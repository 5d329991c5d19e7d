// A change on the typical page is made at once, or, while somebody tries, held back until it is kept.
import { create } from 'zustand'
import type { FedBy } from '../../../core/parts/index.ts'
import type { Command } from '../../../core/schedule/index.ts'
import { makeChange } from '../window-state.ts'

export interface Tried {
  /** What it is about: a second try of the same takes the place of the first. */
  readonly key: string
  readonly command: Command
}

interface TypicalState {
  /** Null while changes are written at once. */
  readonly trying: readonly Tried[] | null
  readonly fedBy: FedBy
}

export const useTypical = create<TypicalState>()(() => ({ trying: null, fedBy: 'not known' }))

export const setTrying = (trying: readonly Tried[] | null): void => useTypical.setState({ trying })
export const setFedBy = (fedBy: FedBy): void => useTypical.setState({ fedBy })

/** Makes the change, or tries it. */
export function change(key: string, command: Command): void {
  const { trying } = useTypical.getState()
  if (trying === null) void makeChange(command)
  else
    setTrying([...trying.filter((each) => each.key !== key), { key, command: merged(trying, key, command) }])
}

/** Fields of the same record that were tried before stay tried. */
function merged(trying: readonly Tried[], key: string, command: Command): Command {
  const before = trying.find((each) => each.key === key)?.command
  if (before?.does !== 'change records' || command.does !== 'change records') return command
  const [was] = before.set
  const [now] = command.set
  if (was === undefined || now === undefined) return command
  return { ...command, set: [{ ...now, fields: { ...was.fields, ...now.fields } }] }
}

/** Writes what was tried, in its order; what is refused and all after it stays tried. */
export async function keepTried(): Promise<void> {
  const { trying } = useTypical.getState()
  if (trying === null) return
  for (const [index, { command }] of trying.entries()) {
    if (!(await makeChange(command))) return
    const left = trying.slice(index + 1)
    // What is written is no longer tried on top of it.
    setTrying(left.length === 0 ? null : left)
  }
}

// The deeds of the wiring: each asks the host to plan, and then for the change.
import type { RecordsChange, RunCell, RunProblem, TypedHow } from '../../../core/runs/index.ts'
import { ask } from '../../bridge.ts'
import { makeChange, stopFor, tell } from '../window-state.ts'

/** Typed cells: what cannot be read is said, and can be left out. */
export async function typeCells(
  cells: readonly RunCell[],
  how: TypedHow,
  unreadable: 'refuse' | 'leave out' = 'refuse',
): Promise<boolean> {
  const answer = await ask('runs.type', { cells: [...cells], how, unreadable })
  if (!answer.ok) {
    stopFor(answer.problem)
    return false
  }
  const { command, problems } = answer.value
  const done = command === null ? problems.length === 0 : await makeChange(command)
  if (problems.length > 0) sayProblems(cells, how, unreadable, problems)
  return done
}

function sayProblems(
  cells: readonly RunCell[],
  how: TypedHow,
  unreadable: 'refuse' | 'leave out',
  problems: readonly RunProblem[],
): void {
  const more = problems.map(({ sentence }) => sentence)
  const others = cells.length - problems.length
  if (unreadable === 'leave out')
    return tell({
      weight: 'question',
      words: `${problems.length} ${problems.length === 1 ? 'cell was' : 'cells were'} left out.`,
      more,
    })
  tell({
    weight: 'stop',
    words:
      more.length === 1
        ? `${more[0] ?? ''} Nothing was changed.`
        : `${more.length} cells could not be read. Nothing was changed.`,
    ...(more.length > 1 ? { more } : {}),
    ...(others > 0
      ? {
          actions: [
            {
              label: `Leave ${more.length === 1 ? 'it' : 'them'} out and set the other ${others}`,
              act: () => void typeCells(cells, how, 'leave out'),
            },
          ],
        }
      : {}),
  })
}

/** Carries out what the host planned. `otherwise` is said where there was nothing to change. */
export async function carryOut(
  planned: Promise<
    | { readonly ok: true; readonly value: { readonly command: RecordsChange | null } }
    | { readonly ok: false; readonly problem: { readonly code: string; readonly sentence: string } }
  >,
  otherwise: string,
): Promise<boolean> {
  const answer = await planned
  if (!answer.ok) {
    tell({ weight: 'stop', words: `${answer.problem.sentence} Nothing was changed.` })
    return false
  }
  const { command } = answer.value
  if (command !== null) return makeChange(command)
  tell({ weight: 'told', words: otherwise })
  return true
}

type Change = Partial<Pick<RecordsChange, 'add' | 'set' | 'remove'>>

/** A named change of records that needs no planning. */
export const changeRecords = (name: string, { add = [], set = [], remove = [] }: Change): Promise<boolean> =>
  makeChange({ does: 'change records', name, add, set, remove })

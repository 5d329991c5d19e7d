// Carrying out what would put something right, with the way back at hand.
import type { RecordsChange } from '../../../core/power/index.ts'
import { makeChange, tell, undo } from '../window-state.ts'

/** One action, and one to take it back. */
export async function putRight(command: RecordsChange): Promise<void> {
  if (!(await makeChange(command))) return
  tell({
    weight: 'told',
    words: `Done: ${command.name}.`,
    actions: [{ label: 'Take it back', act: () => void undo() }],
  })
}

// What the program made, handed to the person with a word about it.
import type { MadeFile } from '../../core/contract/index.ts'
import { ask } from '../bridge.ts'
import { keepFile } from './files.ts'
import { shownColumns, tell, useWindow, working } from './window-state.ts'

/** Hands a made file to the person, with what could not be shown as it is. */
export function keep(made: MadeFile): void {
  keepFile(made)
  const pages = made.pages === null ? '' : `, ${made.pages} ${made.pages === 1 ? 'page' : 'pages'}`
  tell({
    weight: made.warnings.length > 0 ? 'question' : 'told',
    words: `${made.fileName}${pages} was handed to you.`,
    ...(made.warnings.length > 0 ? { more: made.warnings } : {}),
  })
}

export async function exportSchedule(form: 'xlsx' | 'csv'): Promise<void> {
  const { arrangement, preferences } = useWindow.getState()
  const made = await working('Writing the schedule', () =>
    ask('export.schedule', { form, arrangement, columns: [...shownColumns(preferences)] }),
  )
  if (made !== null) keep(made)
}

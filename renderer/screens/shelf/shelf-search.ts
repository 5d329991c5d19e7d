// Searching all job files at hand, and opening what was found where it answers.
import type { ShelfFound } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import type { FindEntry } from '../../ui/index.ts'
import { heard } from '../caller-words.ts'
import { goTo, type Place } from '../place.ts'
import { readSchedule, tell, useWindow, working } from '../window-state.ts'

export interface ShelfAnswer {
  readonly found: readonly ShelfFound[]
  /** Whether folders are still being looked through, so that asking again may find more. */
  readonly refreshing: boolean
}

/** What the shelf answers to these words. */
export async function searchShelf(words: string, limit: number): Promise<ShelfAnswer> {
  const answer = await ask('library.search', { words, limit })
  return answer.ok ? answer.value : { found: [], refreshing: false }
}

const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 300))

function placeOf({ kind, id, openingId }: ShelfFound): Place {
  if (openingId !== null) return { sheet: 'call', openingId }
  switch (kind) {
    case 'supply':
    case 'output':
      return kind === 'supply' ? { sheet: 'supply', supplyId: id } : { sheet: 'power' }
    case 'part':
      return { sheet: 'part', partId: id }
    case 'typical':
      return { sheet: 'typical', typicalId: id }
    case 'run':
    case 'conductor':
    case 'controller':
    case 'point':
      return { sheet: 'runs' }
    case 'visit':
    case 'finding':
      return { sheet: 'service' }
    case 'job':
      return { sheet: 'job' }
    default:
      return { sheet: 'schedule' }
  }
}

/** Opens what was found; another job only for reading, until somebody asks. `words` are what the caller said. */
export async function openFound(found: ShelfFound, words: string): Promise<void> {
  const { job } = useWindow.getState()
  heard(words)
  if (job?.state.path !== found.jobPath) {
    const state = await working(`Opening ${found.jobName}`, () =>
      ask('job.open', { path: found.jobPath, readOnly: true }),
    )
    if (state === null) return
    // The place first, so that the schedule is not drawn for nothing.
    goTo(placeOf(found))
    await readSchedule(true)
    tell({
      weight: 'told',
      words: `${found.sentence === null ? '' : `${found.sentence} `}${state.jobName} is open for reading only.`,
      actions: [{ label: 'Open for changes', act: () => void openForChanges() }],
    })
    return
  }
  goTo(placeOf(found))
}

/** Opens the job that is read for changes as well; where another program holds it, the notice says so. */
export async function openForChanges(): Promise<void> {
  const { job } = useWindow.getState()
  if (job === null) return
  const { path } = job.state
  const state = await working(`Opening ${job.state.fileName} for changes`, () =>
    ask('job.open', { path, readOnly: false }),
  )
  if (state !== null) await readSchedule(true)
}

/** What the find box offered last, by its entries' keys. */
const offered = new Map<string, { readonly found: ShelfFound; readonly words: string }>()

/** Answers of the shelf as entries of the find box, without those that it has of the job in hand. */
export async function shelfEntries(words: string, known: ReadonlySet<string>): Promise<FindEntry[]> {
  let { found, refreshing } = await searchShelf(words, 20)
  // On the very first start nothing is in the index yet: what the job in hand cannot answer is worth a moment.
  for (let tries = 0; refreshing && found.length === 0 && known.size === 0 && tries < 6; tries += 1) {
    await pause()
    ;({ found, refreshing } = await searchShelf(words, 20))
  }
  offered.clear()
  return found
    .filter(({ id }) => !known.has(id))
    .slice(0, 12)
    .map((each, index) => {
      const key = `shelf ${index}`
      offered.set(key, { found: each, words })
      return { key, label: each.title, detail: detailOf(each) }
    })
}

export const detailOf = ({ detail, jobName, without }: ShelfFound): string =>
  [detail, jobName, without.length === 0 ? '' : `without ${without.map((word) => `“${word}”`).join(', ')}`]
    .filter((each) => each !== '')
    .join(' · ')

/** Opens an entry of the shelf. False where it is none. */
export function pickShelfEntry(key: string): boolean {
  const chosen = offered.get(key)
  if (chosen === undefined) return false
  void openFound(chosen.found, chosen.words)
  return true
}

// Labels for both ends of every run: each says its own end first, with the terminals there.
import type { JobData } from '../job/index.ts'
import { runPage, type RunPage } from '../runs/index.ts'
import type { Label } from './labels.ts'

/** Two labels a run, in the order given. Runs that are gone have none. */
export const cableLabels = (data: JobData, runIds: readonly string[]): Label[] =>
  runIds.flatMap((id) => {
    const page = runPage(data, id)
    return page === null ? [] : [labelAt(page, 'from'), labelAt(page, 'to')]
  })

function labelAt({ row, conductors }: RunPage, side: 'from' | 'to'): Label {
  const terminals = conductors.flatMap(({ fromTerminal, toTerminal }) =>
    side === 'from' ? (fromTerminal ?? []) : (toTerminal ?? []),
  )
  const place = (at: 'from' | 'to'): string => (row[at] === '' ? 'not known' : row[at])
  const here = [place(side), [...new Set(terminals)].join(' ')].filter((each) => each !== '').join(' ')
  const other = side === 'from' ? 'to' : 'from'
  return {
    name: `${row.name}, the ${side} end`,
    mark: row.name,
    lines: [`${side} ${here}`, `${other} ${place(other)}`, row.cable ?? ''].filter((each) => each !== ''),
    codeText: null,
  }
}

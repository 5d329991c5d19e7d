import type { TableItem } from '../../../../renderer/ui/index.ts'

export interface DemoRow {
  readonly mark: string
  readonly level: string
  readonly texts: Readonly<Record<string, string>>
}

const wheres = [
  'Main lobby, from forecourt',
  'Records, from corridor 110',
  'Stair 2, from corridor 110',
  'Pharmacy store, from 117',
  'Ambulance entry',
  'Nursery, from corridor 200',
  'Comms room',
  'Roof plant, from stair 1',
  'Ward cross-corridor',
  'Staff room',
]
const sizes = ['PR 6-0 × 8-0', '3-0 × 7-0', '3-0 × 7-0', '3-6 × 7-0']
const hands = ['LHR', 'RH', 'LH', 'RHR']
const typicals = ['Lobby pair', 'Records', 'Stair re-entry', 'Magnet + sensor', 'Strike, secure']

const pick = (list: readonly string[], index: number): string => list[index % list.length] ?? ''

export const demoRows = (count: number): DemoRow[] =>
  Array.from({ length: count }, (_, index) => {
    const level = `Level ${Math.floor((index * 4) / count) + 1}`
    const texts: Record<string, string> = {
      where: pick(wheres, index),
      size: pick(sizes, index),
      hand: pick(hands, index),
      label: pick(['—', '45', '90', '20'], index),
      typical: pick(typicals, index),
      feed: `PS${(index % 4) + 1} / ${(index % 6) + 1}`,
      volts: (20.7 + ((index * 7) % 28) / 10).toFixed(1),
      cautions: pick(['1', '', '', '2', '', '', '', '3'], index),
      notes: '',
    }
    for (let extra = 0; extra < 9; extra += 1) texts[`extra${extra}`] = `${extra}.${index}`
    return { mark: String(101 + index), level, texts }
  })

/** Rows under a heading for each level; folded levels keep their heading alone. */
export const demoItems = (rows: readonly DemoRow[], folded: ReadonlySet<string>): TableItem<DemoRow>[] => {
  const counts = Map.groupBy(rows, (row) => row.level)
  const items: TableItem<DemoRow>[] = []
  for (const [level, own] of counts) {
    const collapsed = folded.has(level)
    items.push({ form: 'group', key: level, title: level, count: own.length, level: 1, collapsed })
    if (!collapsed) for (const row of own) items.push({ form: 'row', key: row.mark, row })
  }
  return items
}

// What the signs of an opening schedule mean: only those that the schedule uses.
import type { CellMark, LegendBlock, LegendEntry } from './blocks.ts'

/** Judged standing at the keyed side, facing the door. Common practice, no source. */
const handMeanings: readonly (readonly [string, string])[] = [
  ['LH', 'Left hand: hinges on the left, opens away from you'],
  ['RH', 'Right hand: hinges on the right, opens away from you'],
  ['LHR', 'Left hand reverse: hinges on the left, opens towards you'],
  ['RHR', 'Right hand reverse: hinges on the right, opens towards you'],
]

/** Abbreviations people write in door and frame material columns. Common practice, no source. */
const materialMeanings: readonly (readonly [string, string])[] = [
  ['HM', 'Hollow metal'],
  ['HMI', 'Hollow metal, insulated'],
  ['KD', 'Knock-down frame'],
  ['WD', 'Wood'],
  ['SCW', 'Solid core wood'],
  ['SCWD', 'Solid core wood'],
  ['AL', 'Aluminium'],
  ['ALUM', 'Aluminium'],
  ['GL', 'Glass'],
  ['GALV', 'Galvanised steel'],
  ['SS', 'Stainless steel'],
  ['ST', 'Steel'],
  ['STL', 'Steel'],
  ['FG', 'Fibreglass'],
  ['FRP', 'Fibre-reinforced plastic'],
]

const markMeanings: Readonly<Record<CellMark, string>> = {
  'not known': 'Not known: nobody has given this fact yet. It is never taken as a pass',
  own: 'Differs from the typical on purpose, at this opening',
  question: 'Has a question that wants an answer',
  broken: 'A limit is broken, or someone could be hurt',
}
const markOrder: readonly CellMark[] = ['not known', 'own', 'question', 'broken']

/** What the legend looks at. Texts are those of the cells. */
export interface LegendUse {
  /** Whether any opening says something of its fire label. */
  readonly labelled: boolean
  readonly materialTexts: Iterable<string>
  readonly handTexts: Iterable<string>
  readonly marks: ReadonlySet<CellMark>
}

const entry = ([text, meaning]: readonly [string, string]): LegendEntry => ({ sign: { text }, meaning })

function wordsIn(texts: Iterable<string>): Set<string> {
  const found = new Set<string>()
  for (const text of texts) for (const word of text.toUpperCase().split(/[^A-Z]+/)) found.add(word)
  return found
}

/** The legend of an opening schedule. `more` is added as a last section, for what only the caller knows. */
export function scheduleLegend(use: LegendUse, more: readonly LegendEntry[]): LegendBlock {
  const sections: { heading: string; entries: LegendEntry[] }[] = []
  const add = (heading: string, entries: LegendEntry[]): void => {
    if (entries.length > 0) sections.push({ heading, entries })
  }
  const hands = wordsIn(use.handTexts)
  add('Hand, seen from the keyed side', handMeanings.filter(([hand]) => hands.has(hand)).map(entry))
  const materials = wordsIn(use.materialTexts)
  add('Material', materialMeanings.filter(([material]) => materials.has(material)).map(entry))
  if (use.labelled)
    add('Fire label', [
      { sign: { text: '45 min' }, meaning: 'The minutes that the label on the door or frame states' },
      { sign: { text: 'none' }, meaning: 'Known to bear no label, which is not the same as not known' },
    ])
  add(
    'Marks',
    markOrder
      .filter((mark) => use.marks.has(mark))
      .map((mark) => ({ sign: { mark }, meaning: markMeanings[mark] })),
  )
  add('In this schedule', [...more])
  return { form: 'legend', title: 'What the signs mean', sections }
}

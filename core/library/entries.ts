// What of a job can be found on a shelf of many: one entry a doorway with everything on it, and one for each thing beside.
import { type Fitting, type JobData, type JobRecord, type Opening, type RecordKind } from '../job/index.ts'
import { entryColumns, labels, type EntryColumn, type TextLabel } from './labels.ts'
import { indexWords, runTogether } from './words.ts'

/**
 * A text with its label. Where kind and id are given it is of another record than the entry's own, which answers when
 * the text is found; `called` is what people call that record, where the text does not say it.
 */
export type EntryText = readonly [
  label: TextLabel,
  text: string,
  kind?: RecordKind,
  id?: string,
  called?: string,
]

export interface Entry {
  readonly kind: RecordKind
  readonly id: string
  /** The opening whose page answers, when there is one. */
  readonly openingId: string | null
  readonly title: string
  /** Where it is, in few words. */
  readonly place: string
  readonly texts: readonly EntryText[]
}

/** Longer texts are searched in their beginning. */
const mostLetters = 2000

/** Leaves out what is not there. */
function* given(
  pairs: readonly (readonly [TextLabel, string | null | undefined])[],
  kind?: RecordKind,
  id?: string,
): Generator<EntryText> {
  for (const [label, text] of pairs) {
    if (text === null || text === undefined || text === '') continue
    const short = text.slice(0, mostLetters)
    yield kind === undefined || id === undefined ? [label, short] : [label, short, kind, id]
  }
}

/** The job's own words, which count for everything in it. */
export const jobTexts = ({ job }: JobData): readonly EntryText[] => [
  ...given([
    ['job', job.name],
    ['job number', job.number],
    ['client', job.client],
    ['address', job.address],
  ]),
]

/** Everything of a job that can be found. References to nothing are passed over: a file is not checked for them. */
export function* libraryEntries(data: JobData): Generator<Entry> {
  const beside = new Beside(data)
  for (const opening of data.all('opening')) yield openingEntry(data, opening, beside)
  yield* suppliesAndControllers(data)
  yield* beside.atNoOpening()
  // Last: the index asks the last first, and everything in a job has the job's words.
  const { job } = data
  yield {
    kind: 'job',
    id: job.id,
    openingId: null,
    title: job.name,
    place: [job.number, job.address].filter((each) => each !== null).join(', '),
    texts: [...given([['notes', job.notes]])],
  }
}

function openingEntry(data: JobData, opening: Opening, beside: Beside): Entry {
  const level = data.get('level', opening.levelId)
  const building = level === undefined ? undefined : data.get('building', level.buildingId)
  const to = spaceOf(data, opening.toSpaceId)
  const from = spaceOf(data, opening.fromSpaceId)
  const typical = opening.typicalId === null ? undefined : data.get('typical', opening.typicalId)
  const texts = [
    ...given([
      ['mark', opening.mark],
      ['place', opening.whereText],
      ['room', to?.number],
      ['room', to?.name],
      ['other side', from?.number],
      ['other side', from?.name],
      ['level', level?.name],
      ['building', building?.name],
      ['serial', opening.serial],
      ['asset tag', opening.assetTag],
      ['typical', typical?.name],
      ['hardware set', opening.hardwareSet],
      ['notes', opening.notes],
    ]),
  ]
  for (const fitting of data.referring('fitting', 'openingId', opening.id))
    texts.push(...fittingTexts(data, fitting, beside))
  texts.push(...beside.ofOpening(opening.id))
  const room = opening.whereText ?? (to === undefined ? undefined : nameOfSpace(to))
  return {
    kind: 'opening',
    id: opening.id,
    openingId: opening.id,
    title: opening.mark,
    place: [room, level?.name].filter((each) => each !== undefined).join(', '),
    texts: eachOnce(texts),
  }
}

/** Several of one part say no more than one of it. */
function eachOnce(texts: readonly EntryText[]): EntryText[] {
  const seen = new Set<string>()
  return texts.filter(([label, text, , id]) => {
    const key = `${label} ${text} ${id ?? ''}`
    if (seen.has(key)) return false
    seen.add(key)
    return true
  })
}

const spaceOf = (data: JobData, id: string | null): JobRecord<'space'> | undefined =>
  id === null ? undefined : data.get('space', id)
const nameOfSpace = ({ number, name }: JobRecord<'space'>): string =>
  name === null ? number : `${number} ${name}`

function* fittingTexts(data: JobData, fitting: Fitting, beside: Beside): Generator<EntryText> {
  yield* beside.ofFitting(fitting.id)
  if (fitting.leftOut) return
  const slot =
    fitting.typicalFittingId === null ? undefined : data.get('typicalFitting', fitting.typicalFittingId)
  const partId = fitting.partId ?? slot?.partId
  const part = partId === undefined || partId === null ? undefined : data.get('part', partId)
  const tag = fitting.tag ?? slot?.tag
  const called = [tag, part?.name].filter((each) => each !== undefined && each !== null).join(' ')
  yield* given([
    ['tag', tag],
    ['part', part?.name],
    ['part', part?.model],
  ])
  for (const [label, text] of given([
    ['serial', fitting.serial],
    ['notes', fitting.notes],
  ]))
    yield [label, text, 'fitting', fitting.id, called]
}

function* suppliesAndControllers(data: JobData): Generator<Entry> {
  for (const supply of data.all('supply')) {
    const outputs = data.referring('output', 'supplyId', supply.id).flatMap((output) => [
      // Callers say "PS1 output 3"; many outputs are named by their number alone.
      ...given(
        [
          ['output', `${supply.mark} output ${output.name}`],
          ['notes', output.notes],
        ],
        'output',
        output.id,
      ),
    ])
    yield {
      ...standing(data, 'supply', supply),
      texts: [...standing(data, 'supply', supply).texts, ...outputs],
    }
  }
  for (const controller of data.all('controller')) yield standing(data, 'controller', controller)
}

/** Something with a mark that stands in a room by itself. */
function standing(
  data: JobData,
  kind: 'supply' | 'controller',
  record: JobRecord<'supply'> | JobRecord<'controller'>,
): Entry {
  const space = spaceOf(data, record.spaceId)
  const level = space === undefined ? undefined : data.get('level', space.levelId)
  const part = record.partId === null ? undefined : data.get('part', record.partId)
  return {
    kind,
    id: record.id,
    openingId: null,
    title: record.mark,
    place: [record.whereText ?? (space === undefined ? undefined : nameOfSpace(space)), level?.name]
      .filter((each) => each !== undefined)
      .join(', '),
    texts: [
      ...given([
        [kind, record.mark],
        ['place', record.whereText],
        ['room', space?.number],
        ['room', space?.name],
        ['level', level?.name],
        ['part', part?.name],
        ['notes', record.notes],
      ]),
    ],
  }
}

/** Runs, points, visits and findings, by the opening or fitting they answer with; the rest answers by itself. */
class Beside {
  readonly #byOpening = new Map<string, EntryText[]>()
  readonly #byFitting = new Map<string, EntryText[]>()
  readonly #alone: Entry[] = []

  constructor(data: JobData) {
    for (const run of data.all('run')) {
      const texts = [
        ...given(
          [
            ['run', run.name],
            ['cable', run.cable],
            ['notes', run.notes],
          ],
          'run',
          run.id,
        ),
      ]
      this.#keep('run', run.id, run.name, texts, [], [run.toFittingId, run.fromFittingId])
    }
    for (const point of data.all('point')) {
      const texts = [
        ...given(
          [
            ['point', point.name],
            ['notes', point.notes],
          ],
          'point',
          point.id,
        ),
      ]
      this.#keep('point', point.id, point.name, texts, [], [point.fittingId])
    }
    for (const visit of data.all('visit')) {
      const changed = data
        .referring('visitPart', 'visitId', visit.id)
        .flatMap((part): [TextLabel, string | null][] => [
          ['serial', part.oldSerial],
          ['serial', part.newSerial],
          ['visit', part.notes],
        ])
      const texts = [
        ...given(
          [['visit', visit.symptom], ['visit', visit.found], ['visit', visit.done], ...changed],
          'visit',
          visit.id,
        ),
      ]
      this.#keep('visit', visit.id, visit.symptom ?? 'visit', texts, [visit.openingId], [])
    }
    for (const finding of data.all('finding')) {
      const texts = [...given([['finding', finding.words]], 'finding', finding.id)]
      this.#keep('finding', finding.id, finding.words, texts, [finding.openingId], [finding.fittingId])
    }
  }

  #keep(
    kind: RecordKind,
    id: string,
    title: string,
    texts: readonly EntryText[],
    openings: readonly (string | null)[],
    fittings: readonly (string | null)[],
  ): void {
    const homes = openings.filter((each) => each !== null)
    for (const home of homes) listOf(this.#byOpening, home).push(...texts)
    if (homes.length > 0) return
    const places = [...new Set(fittings.filter((each) => each !== null))]
    for (const place of places) listOf(this.#byFitting, place).push(...texts)
    if (places.length > 0 || texts.length === 0) return
    this.#alone.push({ kind, id, openingId: null, title, place: '', texts })
  }

  ofOpening(id: string): readonly EntryText[] {
    return this.#byOpening.get(id) ?? []
  }

  ofFitting(id: string): readonly EntryText[] {
    return this.#byFitting.get(id) ?? []
  }

  atNoOpening(): readonly Entry[] {
    return this.#alone
  }
}

function listOf(lists: Map<string, EntryText[]>, id: string): EntryText[] {
  let list = lists.get(id)
  if (list === undefined) lists.set(id, (list = []))
  return list
}

/** The words of an entry as the index keeps them, one text a column; each word once. */
export function wordsByColumn(
  entry: Entry,
  ofJob: readonly EntryText[],
): Readonly<Record<EntryColumn, readonly string[]>> {
  const columns = new Map<EntryColumn, Set<string>>(entryColumns.map((column) => [column, new Set()]))
  for (const [label, text] of [...entry.texts, ...ofJob]) {
    const { column, exact } = labels[label]
    const named = column === 'key' || column === 'room'
    for (const word of indexWords(text, named)) columns.get(column)?.add(word)
    if (exact === 0 || (column === 'job' && entry.kind !== 'job')) continue
    const joined = runTogether(text)
    if (joined !== '' && joined.length <= 80) columns.get(column === 'key' ? 'mark' : 'whole')?.add(joined)
  }
  return Object.fromEntries([...columns].map(([column, words]) => [column, [...words]])) as never
}

// Finds what a caller says, in one job: marks, places, rooms, serials, notes, parts, tags, typicals, supplies, runs.
import type { Fitting, JobData, JobRecord, Opening, RecordKind } from '../job/index.ts'
import { jobCode, readOpeningCode, type ReadOpeningCode } from './opening-code.ts'

export interface Found {
  readonly kind: RecordKind
  readonly id: string
  /** The opening whose page answers, when there is one. */
  readonly openingId: string | null
  readonly title: string
  readonly detail: string
  /** What kind of text held the first word: "mark", "room", "serial" and so on. */
  readonly matched: string
}

/** One text of a record, in the two forms that are searched: all run together, and as separate words. */
interface Piece {
  readonly label: string
  readonly joined: string
  readonly spaced: string
  readonly weight: number
}

interface Word {
  readonly joined: string
  /** The same as a figure between blanks, when it is a number said in words: only a whole word will do. */
  readonly figure: string | null
}

const figures: ReadonlyMap<string, string> = new Map(
  [
    ['one', 'first', '1st'],
    ['two', 'second', '2nd'],
    ['three', 'third', '3rd'],
    ['four', 'fourth', '4th'],
    ['five', 'fifth', '5th'],
    ['six', 'sixth', '6th'],
    ['seven', 'seventh', '7th'],
    ['eight', 'eighth', '8th'],
    ['nine', 'ninth', '9th'],
    ['ten', 'tenth', '10th'],
    ['eleven', 'eleventh', '11th'],
    ['twelve', 'twelfth', '12th'],
  ].flatMap((names, index) => names.map((name): [string, string] => [name, String(index + 1)])),
)

const simple = (text: string): string => text.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase()
/** Without case, accents, blanks, dashes and dots: "ST-04 b" and "st04B" are the same. */
const runTogether = (text: string): string => simple(text).replaceAll(/[^\p{L}\p{N}]+/gu, '')
const asWords = (text: string): string =>
  ` ${simple(text)
    .replaceAll(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()} `

function figureOf(word: string): string | null {
  const figure = figures.get(simple(word))
  return figure === undefined ? null : ` ${figure} `
}

function wordsOf(asked: string): Word[] {
  return asked
    .slice(0, 400)
    .split(/\s+/u)
    .map((each) => ({ joined: runTogether(each), figure: figureOf(each) }))
    .filter((word) => word.joined !== '')
    .slice(0, 12)
}

/** What is searched of one record, once whole for a quick look and once text by text for the rank. */
interface Texts {
  readonly joined: string
  readonly spaced: string
  readonly pieces: readonly Piece[]
}

type Labelled = readonly (readonly [label: string, text: string | null, weight: number])[]

/** Records are replaced when they change, never altered, so what was made of one holds as long as it does. */
const textsByRecord = new WeakMap<object, Texts>()

function textsOf(kind: Searched, record: object): Texts {
  let texts = textsByRecord.get(record)
  if (texts !== undefined) return texts
  const labelled = (labelledTexts[kind] as (record: object) => Labelled)(record)
  const pieces = labelled.flatMap(([label, text, weight]) =>
    text === null || text === '' ? [] : [{ label, joined: runTogether(text), spaced: asWords(text), weight }],
  )
  texts = {
    joined: pieces.map((piece) => piece.joined).join('\n'),
    spaced: pieces.map((piece) => piece.spaced).join('\n'),
    pieces,
  }
  textsByRecord.set(record, texts)
  return texts
}

/** The kinds that are searched, each with its texts and how much a hit in them says. */
const labelledTexts = {
  opening: (each: Opening): Labelled => [
    ['mark', each.mark, 10],
    ['place', each.whereText, 5],
    ['serial', each.serial, 6],
    ['asset tag', each.assetTag, 6],
    ['notes', each.notes, 1],
    ['hardware set', each.hardwareSet, 1],
  ],
  fitting: (each: Fitting): Labelled => [
    ['serial', each.serial, 6],
    ['tag', each.tag, 3],
    ['notes', each.notes, 1],
  ],
  space: (each: JobRecord<'space'>): Labelled => [
    ['room', each.number, 4],
    ['room', each.name, 4],
  ],
  level: (each: JobRecord<'level'>): Labelled => [['level', each.name, 3]],
  part: (each: JobRecord<'part'>): Labelled => [
    ['part', each.name, 2],
    ['part', each.model, 2],
  ],
  typical: (each: JobRecord<'typical'>): Labelled => [['typical', each.name, 2]],
  typicalFitting: (each: JobRecord<'typicalFitting'>): Labelled => [
    ['tag', each.tag, 2],
    ['notes', each.notes, 1],
  ],
  supply: (each: JobRecord<'supply'>): Labelled => [
    ['supply', each.mark, 8],
    ['place', each.whereText, 3],
    ['notes', each.notes, 1],
  ],
  controller: (each: JobRecord<'controller'>): Labelled => [
    ['controller', each.mark, 8],
    ['place', each.whereText, 3],
    ['notes', each.notes, 1],
  ],
  point: (each: JobRecord<'point'>): Labelled => [
    ['point', each.name, 6],
    ['notes', each.notes, 1],
  ],
  run: (each: JobRecord<'run'>): Labelled => [
    ['run', each.name, 6],
    ['cable', each.cable, 1],
    ['notes', each.notes, 1],
  ],
  visit: (each: JobRecord<'visit'>): Labelled => [
    ['visit', each.symptom, 2],
    ['visit', each.found, 2],
    ['visit', each.done, 2],
  ],
  finding: (each: JobRecord<'finding'>): Labelled => [['finding', each.words, 2]],
} as const
type Searched = keyof typeof labelledTexts

/** One bit for each word that the texts hold. */
function bitsOf(texts: Texts, words: readonly Word[]): number {
  let bits = 0
  for (let index = 0; index < words.length; index++) {
    if (holds(texts, words[index] as Word)) bits |= 1 << index
  }
  return bits
}

function holdsAll(texts: Texts, words: readonly Word[], needed: number): boolean {
  for (let index = 0; index < words.length; index++)
    if ((needed & (1 << index)) !== 0 && !holds(texts, words[index] as Word)) return false
  return true
}

const holds = (texts: Texts, word: Word): boolean =>
  texts.joined.includes(word.joined) || (word.figure !== null && texts.spaced.includes(word.figure))

/** How well one word fits: the whole text, its beginning, a word's beginning, or somewhere inside. */
function fit(piece: Piece, word: Word): number {
  if (piece.joined === word.joined) return 8
  if (piece.joined.startsWith(word.joined)) return 4
  if (piece.spaced.includes(` ${word.joined}`)) return 3
  // "three" is the third level far sooner than a mark that ends in 3.
  if (word.figure !== null && piece.spaced.includes(word.figure)) return piece.label === 'level' ? 6 : 1
  return piece.joined.includes(word.joined) ? 1 : 0
}

interface Rank {
  readonly score: number
  readonly label: string
}

/** For each word the best fit in some texts, and what that text was. */
type Fits = readonly { readonly worth: number; readonly label: string }[]

function fitsOf({ pieces }: Texts, words: readonly Word[]): Fits {
  return words.map((word) => {
    let worth = 0
    let label = ''
    for (const piece of pieces) {
      const each = piece.weight * fit(piece, word)
      if (each <= worth) continue
      worth = each
      label = piece.label
    }
    return { worth, label }
  })
}

/** The best fit of each word over all texts together, and what the text was that fits best of all. */
function rankOf(parts: readonly Fits[], wordCount: number): Rank {
  let score = 0
  let strongest = 0
  let label = ''
  for (let index = 0; index < wordCount; index++) {
    let best = 0
    for (const part of parts) {
      const each = part[index]
      if (each === undefined || each.worth <= best) continue
      best = each.worth
      if (best > strongest) {
        strongest = best
        label = each.label
      }
    }
    score += best
  }
  return { score, label }
}

interface Hit extends Rank {
  readonly kind: Searched
  readonly record: { readonly id: string }
  readonly opening: Opening | null
}

/**
 * The records that hold every word, best first; an opening also counts the words of its rooms, level and typical, and
 * what is on an opening counts the opening's. Forgiving of case, accents, blanks and dashes, and of numbers in words.
 */
export function findInJob(data: JobData, asked: string, limit: number): Found[] {
  const code = readOpeningCode(asked)
  if (code !== null) return openingOfCode(data, code).slice(0, limit)
  const words = wordsOf(asked)
  if (words.length === 0 || limit < 1) return []
  const search = new Search(data, words, runTogether(asked), limit)
  search.openings()
  search.fittings()
  search.atOpenings('visit')
  search.atOpenings('finding')
  for (const kind of alone) search.alone(kind)
  return search.best()
}

/** The opening a label names. A label of another job finds nothing here, rather than a door with the same mark. */
function openingOfCode(data: JobData, { job, mark }: ReadOpeningCode): Found[] {
  if (runTogether(job) !== runTogether(jobCode(data.job))) return []
  return [...data.all('opening')]
    .filter((opening) => runTogether(opening.mark) === runTogether(mark))
    .map((opening) => ({
      kind: 'opening',
      id: opening.id,
      openingId: opening.id,
      title: opening.mark,
      detail: placeOf(data, opening),
      matched: 'mark',
    }))
}

const alone = [
  'space',
  'level',
  'part',
  'typical',
  'typicalFitting',
  'supply',
  'controller',
  'point',
  'run',
] as const

class Search {
  readonly #data: JobData
  readonly #words: readonly Word[]
  readonly #asked: string
  readonly #limit: number
  readonly #all: number
  readonly #hits: Hit[] = []
  /** Rooms, levels, parts, typicals and openings by id: asked once, however many records have them. */
  readonly #bits = new Map<string, number>()
  readonly #fitsById = new Map<string, Fits>()
  readonly #rankByOpening = new Map<string, Rank>()

  constructor(data: JobData, words: readonly Word[], asked: string, limit: number) {
    this.#data = data
    this.#words = words
    this.#asked = asked
    this.#limit = limit
    this.#all = (1 << words.length) - 1
    for (const kind of ['space', 'level', 'part', 'typical'] as const)
      for (const each of data.all(kind)) {
        const bits = bitsOf(textsOf(kind, each), words)
        if (bits !== 0) this.#bits.set(each.id, bits)
      }
  }

  #bitsOfId(id: string | null): number {
    return id === null ? 0 : (this.#bits.get(id) ?? 0)
  }

  #fits(kind: Searched, record: { readonly id: string }): Fits {
    let fits = this.#fitsById.get(record.id)
    if (fits === undefined) this.#fitsById.set(record.id, (fits = fitsOf(textsOf(kind, record), this.#words)))
    return fits
  }

  /** Nothing for a record that holds none of the words. */
  #fitsOfId(kind: Searched, id: string | null): Fits {
    const record = id === null || this.#bitsOfId(id) === 0 ? undefined : this.#data.get(kind, id)
    return record === undefined ? [] : this.#fits(kind, record)
  }

  openings(): void {
    for (const opening of this.#data.all('opening')) {
      const bits =
        bitsOf(textsOf('opening', opening), this.#words) |
        this.#bitsOfId(opening.toSpaceId) |
        this.#bitsOfId(opening.fromSpaceId) |
        this.#bitsOfId(opening.levelId) |
        this.#bitsOfId(opening.typicalId)
      if (bits === 0) continue
      this.#bits.set(opening.id, bits)
      if (bits !== this.#all) continue
      const rank = this.#rankOfOpening(opening)
      const exact = textsOf('opening', opening).pieces[0]?.joined === this.#asked
      this.#add({
        kind: 'opening',
        record: opening,
        opening,
        score: rank.score + (exact ? 1000 : 0),
        label: rank.label,
      })
    }
  }

  #rankOfOpening(opening: Opening): Rank {
    let rank = this.#rankByOpening.get(opening.id)
    if (rank !== undefined) return rank
    const parts = [
      fitsOf(textsOf('opening', opening), this.#words),
      this.#fitsOfId('space', opening.toSpaceId),
      this.#fitsOfId('space', opening.fromSpaceId),
      this.#fitsOfId('level', opening.levelId),
      this.#fitsOfId('typical', opening.typicalId),
    ]
    rank = rankOf(parts, this.#words.length)
    this.#rankByOpening.set(opening.id, rank)
    return rank
  }

  fittings(): void {
    for (const fitting of this.#data.all('fitting')) {
      const texts = textsOf('fitting', fitting)
      const partId = partOf(this.#data, fitting)
      const part = this.#bitsOfId(partId)
      // Most fittings hold none of the words: that is seen before their opening is looked up.
      const own = part | bitsOf(texts, this.#words)
      if (own === 0) continue
      const needed = this.#neededBeside(fitting.openingId)
      if (needed === 0 || (needed & ~own) !== 0) continue
      this.#addAt('fitting', fitting, fitting.openingId, [
        fitsOf(texts, this.#words),
        this.#fitsOfId('part', partId),
      ])
    }
  }

  /** What was found and done at an opening answers with that opening. */
  atOpenings(kind: 'visit' | 'finding'): void {
    for (const each of this.#data.all(kind)) {
      const texts = textsOf(kind, each)
      const needed = this.#neededBeside(each.openingId)
      if (needed === 0 || !holdsAll(texts, this.#words, needed)) continue
      this.#addAt(kind, each, each.openingId, [fitsOf(texts, this.#words)])
    }
  }

  /** The words the opening does not hold itself; none when it holds all, and is listed as itself. */
  #neededBeside(openingId: string | null): number {
    return this.#all & ~this.#bitsOfId(openingId)
  }

  #addAt(
    kind: Searched,
    record: { readonly id: string },
    openingId: string | null,
    parts: readonly Fits[],
  ): void {
    const opening = (openingId === null ? undefined : this.#data.get('opening', openingId)) ?? null
    const own = rankOf(parts, this.#words.length)
    const around =
      opening === null || this.#bitsOfId(openingId) === 0 ? 0 : this.#rankOfOpening(opening).score / 2
    this.#add({ kind, record, opening, score: own.score + around, label: own.label })
  }

  alone(kind: (typeof alone)[number]): void {
    for (const each of this.#data.all(kind)) {
      const texts = textsOf(kind, each)
      if (bitsOf(texts, this.#words) !== this.#all) continue
      const rank = rankOf([fitsOf(texts, this.#words)], this.#words.length)
      // Who names a room means a door of it: the room itself comes after them.
      const room = kind === 'space'
      const exact = !room && texts.pieces.some((piece) => piece.joined === this.#asked)
      const score = room ? rank.score / 2 : rank.score + (exact ? 500 : 0)
      this.#add({ kind, record: each, opening: null, score, label: rank.label })
    }
  }

  /** Keeps no more than asked for, in order: a word that is everywhere must not cost a sort of everything. */
  #add(hit: Hit): void {
    const hits = this.#hits
    if (hits.length >= this.#limit && compareHits(hit, hits.at(-1) as Hit) >= 0) return
    let place = hits.length
    while (place > 0 && compareHits(hit, hits[place - 1] as Hit) < 0) place--
    hits.splice(place, 0, hit)
    if (hits.length > this.#limit) hits.pop()
  }

  best(): Found[] {
    return this.#hits.map((hit) => ({
      kind: hit.kind,
      id: hit.record.id,
      openingId: hit.opening?.id ?? null,
      title: titleOf(this.#data, hit),
      detail: hit.opening === null ? hit.label : placeOf(this.#data, hit.opening),
      matched: hit.label,
    }))
  }
}

const compareText = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)

function compareHits(one: Hit, other: Hit): number {
  if (one.score !== other.score) return other.score - one.score
  return (
    compareText(one.opening?.mark ?? '', other.opening?.mark ?? '') ||
    compareText(one.record.id, other.record.id)
  )
}

function partOf(data: JobData, fitting: Fitting): string | null {
  if (fitting.partId !== null || fitting.typicalFittingId === null) return fitting.partId
  return data.get('typicalFitting', fitting.typicalFittingId)?.partId ?? null
}

/** The mark first, then what was found there; or the name of what stands by itself. */
function titleOf(data: JobData, { kind, record, opening }: Hit): string {
  if (kind === 'opening') return opening?.mark ?? ''
  const own = kind === 'fitting' ? fittingName(data, record as Fitting) : firstText(kind, record)
  return [opening?.mark, own].filter((each) => each !== undefined && each !== '').join(' ')
}

const firstText = (kind: Searched, record: object): string => {
  const texts = (labelledTexts[kind] as (record: object) => Labelled)(record).flatMap(
    ([, text]) => text ?? [],
  )
  return kind === 'space' ? texts.join(' ') : (texts[0] ?? kind)
}

function fittingName(data: JobData, fitting: Fitting): string {
  const typical =
    fitting.typicalFittingId === null ? undefined : data.get('typicalFitting', fitting.typicalFittingId)
  const partId = partOf(data, fitting)
  const part = partId === null ? undefined : data.get('part', partId)
  return [fitting.tag ?? typical?.tag, part?.name].filter((each) => each !== undefined).join(' ')
}

function placeOf(data: JobData, opening: Opening): string {
  const level = data.get('level', opening.levelId)?.name
  const space = opening.toSpaceId === null ? undefined : data.get('space', opening.toSpaceId)
  const room = space === undefined ? undefined : firstText('space', space)
  return [opening.whereText ?? room, level].filter((each) => each !== undefined).join(', ')
}

// One search over the shelf: asks the index from the narrowest to the loosest until there is enough, then ranks.
import {
  figuresNear,
  isNear,
  readingsOf,
  scoreOf,
  shown,
  type AskedWord,
  type Reading,
  type Score,
  type Scored,
} from '../../core/library/index.ts'
import type { RecordKind } from '../../core/job/index.ts'
import {
  entryOf,
  isInNames,
  isWhole,
  matchingEntries,
  wordsHolding,
  wordsLike,
  type IndexConnection,
  type IndexedJob,
} from './index-file.ts'
import { exactMatches, looserMatches, mayBeMistyped, nearMatch } from './match.ts'

/** One answer. */
export interface LibraryFound {
  readonly jobPath: string
  readonly jobName: string
  /** What was found: the opening, or what is on it or beside it. */
  readonly kind: RecordKind
  readonly id: string
  /** The opening whose page answers, when there is one. */
  readonly openingId: string | null
  readonly title: string
  /** Where it is, and what of it matched. */
  readonly detail: string
  /** What kind of text matched best: "mark", "room", "serial" and so on. */
  readonly matched: string
  /** Words asked for that are nowhere in it. */
  readonly without: readonly string[]
  /** Why the file itself may not be as it was indexed, or not be reachable. */
  readonly sentence: string | null
}

/** The jobs a search is in. */
export interface Within {
  readonly jobs: ReadonlyMap<number, IndexedJob>
  /** Their blocks as JSON; null when they are all there are. */
  readonly blocks: string | null
}

interface Candidate {
  readonly entry: Scored
  readonly job: IndexedJob
  score: Score
}

/** What lacks a word and is so many times worse than the best is no answer. */
const farBehind = 4

/** Of those that fit alike, the ones in jobs that were changed latest; more are asked for than are shown. */
const leastAsked = 120
/** However few are shown, this many are compared. */
const leastFound = 20

export function search(db: IndexConnection, within: Within, asked: string, limit: number): LibraryFound[] {
  const readings = readingsOf(asked)
  if (readings.length === 0 || limit < 1 || within.jobs.size === 0) return []
  const pool = new Pool(db, within, readings, Math.max(leastAsked, limit))
  const enough = Math.max(leastFound, limit)
  pool.exact(enough)
  if (pool.size < enough) pool.near(enough)
  return pool.best(limit)
}

class Pool {
  readonly #db: IndexConnection
  readonly #within: Within
  readonly #readings: readonly Reading[]
  readonly #most: number
  readonly #candidates = new Map<number, Candidate>()
  readonly #near = new Map<string, readonly string[]>()

  constructor(db: IndexConnection, within: Within, readings: readonly Reading[], most: number) {
    this.#db = db
    this.#within = within
    this.#readings = readings
    this.#most = most
  }

  get size(): number {
    return this.#candidates.size
  }

  /** What is called so, step by step for all readings, until there is enough. */
  exact(enough: number): void {
    const steps = this.#readings.map((reading) => exactMatches(reading, (word) => isWhole(this.#db, word)))
    const most = Math.max(...steps.map((each) => each.length))
    for (let step = 0; step < most && this.size < enough; step++)
      for (const each of steps) {
        const match = each[step]
        if (match !== undefined) this.#take(match)
      }
  }

  /** What begins so, holds it, or is spelt nearly so; then what lacks a word. */
  near(enough: number): void {
    for (const { words } of this.#readings)
      for (const word of words) if (!word.filler) this.#near.set(word.said, this.#meant(word))
    for (const reading of this.#readings) this.#take(nearMatch(reading, this.#near))
    for (const reading of this.#readings) {
      if (this.size >= enough) return
      const naming = reading.words.filter((word) => !word.filler && this.#isNaming(word))
      for (const match of looserMatches(naming, this.#near)) if (this.size < enough) this.#take(match)
    }
  }

  #isNaming({ said, figure, alike, pieces }: AskedWord): boolean {
    const others = [
      ...(figure === null ? [] : [figure]),
      ...alike,
      ...pieces,
      ...(this.#near.get(said) ?? []),
    ]
    return isInNames(this.#db, said, others)
  }

  #meant(word: AskedWord): readonly string[] {
    const holding = wordsHolding(this.#db, word.said).filter((each) => each !== word.said)
    if (!mayBeMistyped(word)) return holding
    const like = wordsLike(this.#db, word.said).filter((each) => isNear(word.said, each))
    return [...new Set([...holding, ...like, ...(word.figure === null ? figuresNear(word.said) : [])])]
  }

  #take(match: string): void {
    for (const number of matchingEntries(this.#db, match, this.#within.blocks, this.#most)) {
      if (this.#candidates.has(number)) continue
      const entry = entryOf(this.#db, number)
      const job = entry === null ? undefined : this.#within.jobs.get(entry.block)
      if (entry === null || job === undefined) continue
      const scored = { ...entry, ofJob: job.texts }
      this.#candidates.set(number, { entry: scored, job, score: nothing })
    }
  }

  best(limit: number): LibraryFound[] {
    for (const candidate of this.#candidates.values()) candidate.score = this.#scoreOf(candidate.entry)
    const ranked = [...this.#candidates.values()].toSorted(compare)
    const least = (ranked[0]?.score.score ?? 0) / farBehind
    const answers = ranked.filter(({ score }) => score.without.length === 0 || score.score >= least)
    return answers.slice(0, limit).map(found)
  }

  #scoreOf(entry: Scored): Score {
    let best = nothing
    for (const reading of this.#readings) {
      const score = scoreOf(entry, reading, this.#near)
      if (score.score > best.score) best = score
    }
    return best
  }
}

const nothing: Score = { score: 0, best: null, others: [], without: [] }
const compareText = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)

/** The better first; of those alike, the job that was changed later. */
const compare = (one: Candidate, other: Candidate): number =>
  Math.round(other.score.score) - Math.round(one.score.score) ||
  compareText(other.job.changedAt, one.job.changedAt) ||
  compareText(one.job.path, other.job.path) ||
  compareText(one.entry.title, other.entry.title) ||
  compareText(one.entry.id, other.entry.id)

function found({ entry, job, score }: Candidate): LibraryFound {
  const { kind, id, title, detail, matched } = shown(entry, score)
  return {
    jobPath: job.path,
    jobName: job.name,
    kind,
    id,
    openingId: entry.openingId,
    title,
    detail,
    matched,
    without: score.without,
    sentence: job.sentence,
  }
}

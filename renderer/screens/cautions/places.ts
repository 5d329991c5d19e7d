// Places where an answer may stand, as a person chooses them.
import type { AnswerAt, KeptAnswerRecord } from '../../../core/cautions/index.ts'
import type { OpenJob } from '../window-state.ts'

/** `job`, `level <id>`, `typical <id>` or `opening <id>`. */
export const jobPlace = 'job'
export const levelPlace = (id: string): string => `level ${id}`
export const typicalPlace = (id: string): string => `typical ${id}`
export const openingPlace = (id: string): string => `opening ${id}`

/** The place of a key; null for a key that names none. */
export function atPlace(place: string): AnswerAt | null {
  const [at = ''] = place.split(' ')
  const id = place.slice(at.length + 1)
  switch (at) {
    case 'job':
      return { at }
    case 'level':
      return { at, levelId: id }
    case 'typical':
      return { at, typicalId: id }
    case 'opening':
      return { at: 'openings', openingIds: [id] }
    default:
      return null
  }
}

/** A level's name, with its building where another has a level of that name. */
export function levelName({ frame }: Pick<OpenJob, 'frame'>, id: string): string {
  const level = frame.levels.find((each) => each.id === id)
  if (level === undefined) return 'a level that is gone'
  const isOnly = frame.levels.filter(({ name }) => name === level.name).length === 1
  const building = frame.buildings.find((each) => each.id === level.buildingId)
  return isOnly || building === undefined ? level.name : `${building.name}, ${level.name}`
}

/** A place in words: "the job", "Level 2", "Magnet + sensor", "118", "5 openings". */
export function placeWords(job: OpenJob, at: AnswerAt): string {
  switch (at.at) {
    case 'job':
      return 'the job'
    case 'level':
      return levelName(job, at.levelId)
    case 'typical':
      return job.frame.typicals.find((each) => each.id === at.typicalId)?.name ?? 'a typical that is gone'
    case 'openings': {
      const [first = ''] = at.openingIds
      return at.openingIds.length === 1
        ? (job.rows.get(first)?.mark ?? 'an opening that is gone')
        : `${at.openingIds.length} openings`
    }
  }
}

/** Where a kept answer stands. */
export const placeOf = ({ openingId, typicalId, levelId }: KeptAnswerRecord): AnswerAt =>
  openingId !== null
    ? { at: 'openings', openingIds: [openingId] }
    : typicalId !== null
      ? { at: 'typical', typicalId }
      : levelId !== null
        ? { at: 'level', levelId }
        : { at: 'job' }

export const kindOfPlace: Readonly<Record<AnswerAt['at'], string>> = {
  job: 'whole job',
  level: 'level',
  typical: 'typical',
  openings: 'opening',
}

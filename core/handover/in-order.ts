// Openings as the schedule lists them: by building, level and mark.
import { compareMarks, type JobData, type Opening } from '../job/index.ts'

/** Every opening of the job by building, level and mark. */
export function openingsInOrder(data: JobData): Opening[] {
  const place = (opening: Opening): [building: number, level: number] => {
    const level = data.get('level', opening.levelId)
    const building = level === undefined ? undefined : data.get('building', level.buildingId)
    return [building?.position ?? Infinity, level?.position ?? Infinity]
  }
  const places = new Map([...data.all('opening')].map((opening) => [opening.id, place(opening)]))
  return [...data.all('opening')].toSorted((a, b) => {
    const [oneBuilding, oneLevel] = places.get(a.id) ?? [0, 0]
    const [otherBuilding, otherLevel] = places.get(b.id) ?? [0, 0]
    if (oneBuilding !== otherBuilding) return oneBuilding - otherBuilding
    if (oneLevel !== otherLevel) return oneLevel - otherLevel
    return compareMarks(a.mark, b.mark) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
  })
}

/** Records with a position, in order. */
export const byPosition = <T extends { readonly position: number }>(records: Iterable<T>): T[] =>
  [...records].toSorted((a, b) => a.position - b.position)

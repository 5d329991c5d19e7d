// Levels as lists name them: with their building where a job has several.
import type { JobData } from '../job/index.ts'

/** Names by level id, in the order of the levels. */
export function levelNames(data: JobData): ReadonlyMap<string, string> {
  const levels = [...data.all('level')].toSorted((one, other) => one.position - other.position)
  return new Map(
    levels.map(({ id, name, buildingId }) => [
      id as string,
      data.count('building') > 1 ? `${data.get('building', buildingId)?.name ?? '?'}, ${name}` : name,
    ]),
  )
}

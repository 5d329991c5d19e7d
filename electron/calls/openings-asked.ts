import { compareMarks, type JobData, type Opening } from '../../core/job/index.ts'

/** The openings named; or those of a level, or of the whole job, in the order in which people read marks. */
export function openingsAsked(
  data: JobData,
  asked: { readonly openingIds: readonly string[] } | { readonly levelId: string | null },
): Opening[] {
  if ('openingIds' in asked) return asked.openingIds.flatMap((id) => data.get('opening', id) ?? [])
  const { levelId } = asked
  const openings = levelId === null ? [...data.all('opening')] : data.referring('opening', 'levelId', levelId)
  return openings.toSorted((one, other) => compareMarks(one.mark, other.mark))
}

// Which parts must be reached by a run of this job.
import type { JobData, Part } from '../job/index.ts'
import { drawsNothing } from '../power/index.ts'

/** Whether a part draws, or may draw, from a supply of this job; the fire alarm and the mains bring their own wires. */
export function needsFeed(data: JobData, part: Part): boolean {
  const [declared] = data.referring('partBehaviour', 'partId', part.id)
  if (declared?.power === 'from the fire alarm' || declared?.power === 'from the mains') return false
  return !drawsNothing(data, part)
}

// What the parts of a job declare, read from its records.
import type { JobData } from '../job/index.ts'
import { declaredParts, type DeclaredParts } from './declarations.ts'

/** The declarations of every part of a job, looked up once; make it anew when a part changed. */
export function declaredInJob(data: JobData): DeclaredParts {
  return declaredParts({
    parts: [...data.all('partBehaviour')],
    hardware: [...data.all('partHardware')].toSorted(byPosition),
    elements: [...data.all('partElement')].toSorted(byPosition),
    contacts: [...data.all('partContactTiming')],
    effects: [...data.all('settingEffect')],
    slotLeaves: [...data.all('typicalFittingLeaf')],
    overlaps: [...data.all('leafOverlap')],
  })
}

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : 1)

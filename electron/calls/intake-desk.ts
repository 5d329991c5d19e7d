// Take-ins that were read and not yet accepted. They live in memory: leaving the program leaves the job as it was.
import type { PlainFile } from '../../core/exchange/index.ts'

export interface Intake {
  readonly fileName: string
  readonly file: PlainFile
}

export interface IntakeDesk {
  readonly add: (id: string, intake: Intake) => void
  readonly get: (id: string) => Intake | undefined
  readonly drop: (id: string) => void
  readonly dropAll: () => void
}

/** A model of 100,000 doors weighs something; the oldest goes when more are begun than anybody looks at. */
const mostAtOnce = 3

export function intakeDesk(): IntakeDesk {
  const intakes = new Map<string, Intake>()
  return {
    add: (id, intake) => {
      intakes.set(id, intake)
      const [oldest] = intakes.keys()
      if (intakes.size > mostAtOnce && oldest !== undefined) intakes.delete(oldest)
    },
    get: (id) => intakes.get(id),
    drop: (id) => void intakes.delete(id),
    dropAll: () => intakes.clear(),
  }
}

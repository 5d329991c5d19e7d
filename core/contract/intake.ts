// A take-in between reading and accepting: what the person sees, and what they decide.
import { z } from 'zod'
import {
  comparedFields,
  intakeChoices,
  type Comparison,
  type IntakeChoices,
  type IntakeReading,
} from '../exchange/index.ts'

export { intakeChoices, type IntakeChoices }

const decision = z.enum(['accept', 'leave'])
export const intakeDecisions = z.strictObject({
  items: z.record(z.string().max(200), decision),
  /** Item key to field to decision. */
  fields: z.record(z.string().max(200), z.partialRecord(z.enum(comparedFields), decision)),
})
export type IntakeDecisions = z.infer<typeof intakeDecisions>

export interface IntakePreview extends IntakeReading {
  readonly intakeId: string
  readonly fileName: string
  readonly choices: IntakeChoices
  readonly comparison: Comparison
}

// Class 2 limits for direct current. Source: NEC 2017 chapter 9 table 11(B), standards.md 6.1, S95. Local codes decide.
import { questionsOf, type Fact, type Question, type Verdict } from './facts.ts'

/** How the source keeps its current down: by itself, or with an overcurrent device. */
export type Limiting = 'inherent' | 'by overcurrent device'

export interface ClassTwoLimits {
  /** The most that flows, whatever the load, after the table's time. */
  readonly greatestAmps: number
  readonly nameplateVoltAmps: number | null
  readonly nameplateAmps: number | null
  /** VA of a source that needs an overcurrent device. */
  readonly greatestVoltAmps: number | null
  readonly overcurrentAmps: number | null
}

/** In wet places the table stops at 30 V DC. */
export const wetPlaceVolts = 30

/** The limits at a greatest voltage; null above 60 V, where this work does not go. Volts above zero. */
export function classTwoLimits(volts: number, limiting: Limiting): ClassTwoLimits | null {
  if (!(volts > 0) || volts > 60) return null
  if (limiting === 'inherent')
    return {
      greatestAmps: volts <= 30 ? 8 : 150 / volts,
      nameplateVoltAmps: volts <= 20 ? 5 * volts : 100,
      nameplateAmps: volts <= 20 ? 5 : 100 / volts,
      greatestVoltAmps: null,
      overcurrentAmps: null,
    }
  return {
    greatestAmps: 1000 / volts,
    nameplateVoltAmps: null,
    nameplateAmps: null,
    greatestVoltAmps: 250,
    overcurrentAmps: volts <= 20 ? 5 : 100 / volts,
  }
}

/** What the job says of an output that is wired as Class 2. */
export interface ClassTwoOutput {
  readonly name: string
  readonly limiting: Limiting
  readonly highestVolts: Fact<number>
  readonly ratedAmps: Fact<number>
  /** Known to be null where there is no fuse. */
  readonly fuseAmps: Fact<number | null>
}

export type ClassTwoFinding =
  | {
      readonly code: 'current over the nameplate limit'
      readonly amps: number
      readonly limitAmps: number
      readonly volts: number
    }
  | {
      readonly code: 'fuse over the limit'
      readonly amps: number
      readonly limitAmps: number
      readonly volts: number
    }
  | { readonly code: 'no overcurrent device'; readonly limitAmps: number; readonly volts: number }
  | { readonly code: 'volts over the table'; readonly volts: number }

export interface ClassTwoCheck {
  readonly verdict: Verdict
  readonly limits: ClassTwoLimits | null
  readonly findings: readonly ClassTwoFinding[]
  readonly questions: readonly Question[]
}

/** Whether an output's own ratings keep to Class 2. The source's listing as Class 2 is what a code asks; this is arithmetic. */
export function checkClassTwo(output: ClassTwoOutput): ClassTwoCheck {
  const { limiting, highestVolts, ratedAmps, fuseAmps } = output
  const asked = limiting === 'inherent' ? ratedAmps : fuseAmps
  const questions = questionsOf(highestVolts, asked)
  if (!highestVolts.known) return { verdict: 'not known', limits: null, findings: [], questions }
  const volts = highestVolts.value
  const limits = classTwoLimits(volts, limiting)
  if (limits === null)
    return { verdict: 'not met', limits, findings: [{ code: 'volts over the table', volts }], questions }
  if (!asked.known) return { verdict: 'not known', limits, findings: [], questions }
  const limitAmps = limits.nameplateAmps ?? limits.overcurrentAmps ?? limits.greatestAmps
  const amps = asked.value
  const findings: ClassTwoFinding[] = []
  if (amps === null) findings.push({ code: 'no overcurrent device', limitAmps, volts })
  else if (amps > limitAmps + 1e-9)
    findings.push({
      code: limiting === 'inherent' ? 'current over the nameplate limit' : 'fuse over the limit',
      amps,
      limitAmps,
      volts,
    })
  return { verdict: findings.length > 0 ? 'not met' : 'met', limits, findings, questions }
}

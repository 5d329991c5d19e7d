// What there is to prove on an opening, read from the job and from what the engines make of it.
import { factKeys, facts as register, writeValue, type Caution, type Facts } from '../cautions/index.ts'
import { effectiveFittings, type JobData, type Opening } from '../job/index.ts'
import { loopOfPoint, nothingTold, partBook, settingsOf, type PartBook } from '../settings/index.ts'
import type { FactToProve, DeviceToProve, LoopToProve, OpeningToProve, SettingToProve } from './steps.ts'

/** What the engines made of an opening. */
export interface WorkedOut {
  readonly results: OpeningToProve['results']
  readonly devices: readonly DeviceToProve[]
  readonly cautions: readonly Caution[]
  /** What is answered at this opening. */
  readonly facts: Facts
}

export function openingToProve(
  data: JobData,
  opening: Opening,
  workedOut: WorkedOut,
  book: PartBook = partBook(data),
): OpeningToProve {
  return {
    settings: settingsToProve(data, opening, book),
    devices: workedOut.devices,
    loops: loopsToProve(data, opening, book),
    results: workedOut.results,
    facts: factsToProve(workedOut.facts, workedOut.cautions),
  }
}

function settingsToProve(data: JobData, opening: Opening, book: PartBook): SettingToProve[] {
  return settingsOf(data, { openingId: opening.id }, book).flatMap(({ fittingId, tag, settings }) =>
    settings.map(({ setting, designed }) => ({
      fittingId,
      tag,
      setting: setting.name,
      settingId: setting.id,
      designed: designed.known ? designed.value : null,
      question: designed.known ? null : (designed.question?.words ?? null),
    })),
  )
}

/** Circumstances a person cannot bring about at the door without harm, or that are proved by the walk. */
const notMeasured: ReadonlySet<string> = new Set(['no power', 'mains lost', 'fire alarm', 'cable shorted'])

function loopsToProve(data: JobData, opening: Opening, book: PartBook): LoopToProve[] {
  return effectiveFittings(data, opening).flatMap(({ fitting }) =>
    fitting === null
      ? []
      : data
          .referring('point', 'fittingId', fitting.id)
          .filter(({ direction }) => direction === 'input')
          .flatMap((point) => {
            const [terms] = data.referring('pointTerms', 'pointId', point.id)
            const found = loopOfPoint(
              data,
              point.id,
              terms === undefined ? nothingTold : { ...nothingTold, ...terms },
              book,
            )
            if (!found.ok) return []
            const controller = data.get('controller', point.controllerId)?.mark ?? 'its controller'
            return found.loop.states
              .filter(({ circumstance }) => !notMeasured.has(circumstance))
              .map(({ circumstance, reading }) => ({
                pointId: point.id,
                pointName: point.name,
                controller,
                fittingId: fitting.id,
                circumstance,
                reading:
                  reading.form === 'not known'
                    ? { form: 'not known' as const, questions: reading.questions.map(({ words }) => words) }
                    : reading,
              }))
          }),
  )
}

/** What the integrator answers on site: seen at the door as it was answered, or still to be answered. */
function factsToProve(facts: Facts, cautions: readonly Caution[]): FactToProve[] {
  const waiting = new Set(
    cautions.flatMap(({ missing }) => missing.flatMap((each) => (each.about === 'fact' ? [each.fact] : []))),
  )
  return factKeys.flatMap((key): FactToProve[] => {
    const { question, answeredBy, answer: form } = register[key]
    if (answeredBy !== 'integrator on site') return []
    const answer = facts.answer(key)
    if (answer.known) {
      const unit = form.form === 'number' ? ` ${form.unit}` : ''
      return [{ key, question, answer: `${writeValue(answer.value)}${unit}` }]
    }
    return waiting.has(key) ? [{ key, question, answer: null }] : []
  })
}

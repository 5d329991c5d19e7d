// What the controller's inputs see: the resistance of each loop that the symptom is about.
import type { LoopState } from '../settings/index.ts'
import type { Draft, Evidence } from './check.ts'
import type { InputLoop, Scene } from './scene.ts'
import type { Symptom } from './symptoms.ts'

const takeOff =
  'Take the conductors off the input before they are measured; the controller may report a cut meanwhile.'

/** What an input tells, by its contact's circumstances. */
type Tells = 'leaf' | 'asking' | 'cover' | 'other'

function tells({ loop }: InputLoop): Tells {
  const circumstances = new Set(loop.states.map(({ circumstance }) => circumstance))
  if (circumstances.has('exit asked') || circumstances.has('key turned')) return 'asking'
  if (circumstances.has('door open') || circumstances.has('bolt thrown')) return 'leaf'
  return circumstances.has('cover off') ? 'cover' : 'other'
}

const usualPoints: Readonly<Partial<Record<Symptom, Readonly<Record<Tells, number>>>>> = {
  'alarm when opened': { asking: 62, leaf: 46, cover: 20, other: 20 },
  'forced alarm': { leaf: 64, cover: 52, asking: 24, other: 40 },
  'will not release': { asking: 50, leaf: 0, cover: 0, other: 0 },
  'will not lock': { leaf: 28, asking: 46, cover: 0, other: 0 },
}

const why: Readonly<Record<Tells, string>> = {
  asking: 'It tells the controller that somebody leaves; without that, opening counts as forced.',
  leaf: 'It tells the controller whether the leaf is shut.',
  cover: 'It reports a cover that is off, with nobody at the door.',
  other: 'It is watched at this opening.',
}

const whyAsking: Readonly<Partial<Record<Symptom, string>>> = {
  'will not lock': 'An input that reads as asked keeps the order to release standing.',
  'will not release': 'The controller releases only what it is asked for over this input.',
}

export function loopDrafts({ loops, opening }: Scene, symptom: Symptom): Draft[] {
  const usual = usualPoints[symptom]
  if (usual === undefined) return []
  return loops.flatMap((input): Draft[] => {
    const told = tells(input)
    const points = usual[told]
    if (points === 0) return []
    const { point, controller, fitting, loop } = input
    const states = loop.states.filter(isAtTheDoor)
    const readings = states.filter(({ reading }) => reading.form !== 'not known')
    const questions = [
      ...new Set(
        loop.states.flatMap(({ reading }) => (reading.form === 'not known' ? reading.questions : [])),
      ),
    ]
    const expected = readings.length === 0 ? null : readings.map(stateWords).join('; ')
    return [
      {
        key: `loop ${point.id}`,
        form: 'loop',
        look: `Measure ${point.name} at the input of ${controller}, ${deedOf(told, fitting.tag)}.`,
        at: `${controller}, input ${point.name}`,
        expected,
        question: expected === null ? (questions[0]?.words ?? `What should ${point.name} read?`) : null,
        usual: { points, words: told === 'asking' ? (whyAsking[symptom] ?? why.asking) : why[told] },
        evidence: evidenceOf(input),
        otherwise: otherwise(input, opening.mark),
        caution: takeOff,
        fittingId: fitting.fitting?.id ?? null,
      },
    ]
  })
}

/** States that somebody can bring about at the door without harm. */
const isAtTheDoor = ({ meaning, circumstance }: LoopState): boolean =>
  meaning !== 'cut' && meaning !== 'short' && !notTried.has(circumstance)

const notTried: ReadonlySet<string> = new Set(['no power', 'mains lost', 'fire alarm'])

const stateWords = ({ circumstance, words }: LoopState): string => `${circumstance}: ${words}`

function deedOf(told: Tells, tag: string): string {
  switch (told) {
    case 'leaf':
      return 'with the door shut, then open; move the leaf in its play and watch the reading'
    case 'asking':
      return `with ${tag} at rest, then worked`
    case 'cover':
      return `with the cover of ${tag} on`
    case 'other':
      return 'as it stands'
  }
}

/** A loop that says two things at once, or cannot tell them apart, is a likely one. */
function evidenceOf({ loop }: InputLoop): Evidence[] {
  return loop.disagreements.slice(0, 1).map(({ words }) => ({ points: 20, words }))
}

function otherwise({ loop, fitting }: InputLoop, mark: string): string {
  const cut = loop.states.find(({ meaning }) => meaning === 'cut')
  const cutWords = cut === undefined ? 'Open circuit' : capital(cut.words)
  return `${cutWords}: a conductor is off or cut between there and ${mark}. The same in both states: ${fitting.tag} does not change; set it right or change it.`
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

// Reasons, questions and answers in sentences, for the margin and for paper. Nothing is decided here.
import type { Condition } from './conditions.ts'
import type { Question, Thing, WorkedAs } from './model.ts'
import type {
  Because,
  Ease,
  GripForm,
  HowLong,
  Latched,
  OrderedBy,
  Passage,
  Reason,
  UsedHardware,
} from './results.ts'

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

/** Names joined as people say them: one, two and three. */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`

const namesOf = (things: readonly Thing[]): string => listed(things.map(({ name }) => name))

/** A duration as people say it: 45 s, 30 min, 4 h, 1 h 27 min. */
export function durationWords(seconds: number): string {
  if (seconds < 120 || seconds % 60 !== 0) return `${seconds} s`
  const hours = Math.floor(seconds / 3600)
  const minutes = (seconds % 3600) / 60
  return [hours === 0 ? '' : `${hours} h`, minutes === 0 ? '' : `${minutes} min`]
    .filter((each) => each !== '')
    .join(' ')
}

const lastingWords = (howLong: HowLong): string =>
  howLong === null
    ? ''
    : howLong === 'until reset'
      ? ' until the alarm is reset'
      : ` for ${durationWords(howLong.seconds)}`

const asWorked: Readonly<Record<WorkedAs, string>> = {
  exit: 'asks',
  'manual release': 'is pressed',
  credential: 'reads a credential',
  key: 'is turned by key',
  staff: 'is worked by staff',
}

const orderWords = (by: OrderedBy): string =>
  by.order === 'open hours'
    ? 'it is open hours'
    : `${by.device.name} ${by.as === null ? 'asks' : asWorked[by.as]}`

type ContactStep = Extract<Reason, { readonly step: 'contact' }>

function contactSentence({ thing, device, contact, state, because, howLong }: ContactStep): string {
  const feed = `the feed of ${thing.name}`
  const opens = `${state === 'open' ? 'opens' : 'closes'} ${feed}${lastingWords(howLong)}`
  return becauseSentence(because, device.name, contact, feed, state, opens)
}

function becauseSentence(
  because: Because,
  device: string,
  contact: string,
  feed: string,
  state: ContactStep['state'],
  acts: string,
): string {
  const keeps = state === 'closed' ? 'stays closed' : 'stays open'
  switch (because.why) {
    case 'at rest':
      return `Contact ${contact} of ${device} ${keeps} in ${feed}.`
    case 'worked':
      return `${device} ${because.as === null ? 'is worked' : asWorked[because.as]} and ${acts}.`
    case 'motion':
      return `The motion of ${because.hardware.name} works ${device}, which ${acts}.`
    case 'no power of its own': {
      const setting = because.setting === null ? '' : ` (${because.setting})`
      return `${device} has lost its own power and ${state === 'open' ? 'opens' : 'keeps'} ${feed}${setting}.`
    }
    case 'fire alarm':
      return `On fire alarm ${device} ${acts}.`
    case 'mains lost':
      return `With the mains lost ${device} ${acts}.`
    case 'leaf open':
      return `With the leaf open ${device} ${acts}.`
    case 'coil fed':
      return `${device} is fed and ${acts}.`
    case 'other opening open':
      return `While ${because.opening} is open ${device} ${acts}.`
    case 'ordered':
      return because.by.length === 0
        ? `${device} is held in while secured and ${state === 'open' ? 'keeps open' : 'keeps closed'} ${feed}.`
        : `${device} ${acts}, because ${listed(because.by.map(orderWords))}.`
    case 'controller silent':
      return `${because.controller.name} is silent, so ${device} drops out and ${acts}.`
  }
}

const offWords: Readonly<Record<Extract<Reason, { step: 'supply off' }>['because'], string>> = {
  'no power': 'has neither mains nor battery',
  'mains lost, no battery': 'has lost the mains and has no battery',
  'taken off at its terminals': 'is taken off at its own terminals',
}

/** One reason as a sentence. */
export function reasonSentence(reason: Reason): string {
  return capital(rawSentence(reason))
}

function rawSentence(reason: Reason): string {
  switch (reason.step) {
    case 'nothing holds':
      return `nothing holds the ${reason.leaf.name} against the way ${reason.direction}.`
    case 'fed and holds':
      return `${reason.thing.name} is fed from ${reason.supply.name} and ${holdWords[reason.grip]}.`
    case 'not fed and holds':
      return `${reason.thing.name} is not fed and stays locked without power.`
    case 'fed and lets go':
      return `${reason.thing.name} is fed from ${reason.supply.name} and ${letGoWords[reason.grip]} while it is fed.`
    case 'not fed and lets go':
      return `${reason.thing.name} is not fed and ${letGoWords[reason.grip]}.`
    case 'released at its terminals':
      return `${reason.thing.name} lets go at its terminals ${reason.input}.`
    case 'lets both go':
      return 'a magnet that lets one side go lets both go.'
    case 'thrown':
      return `${reason.thing.name} is thrown${throwWords[reason.how]}.`
    case 'withdrawn':
      return reason.how === 'by hand'
        ? `${reason.thing.name} is withdrawn by hand.`
        : `${reason.thing.name} is drawn, because the other leaf is open.`
    case 'key only':
      return `only a key draws ${reason.thing.name} from this side.`
    case 'drawn':
      return `one motion of ${reason.hardware.name} draws ${reason.thing.name}.`
    case 'motions':
      return `it takes ${reason.count} motions.`
    case 'waits':
      return `${reason.hardware.name} must be held; ${reason.thing.name} lets go after ${durationWords(reason.seconds)}.`
    case 'caught':
      return `${reason.keeper.name} catches ${reason.thing.name}.`
    case 'keeper lets pass':
      return `${reason.keeper.name} lets ${reason.thing.name} pass.`
    case 'keeper lets in only':
      return `${reason.keeper.name} has let go, but a strike lets in only.`
    case 'contact':
      return contactSentence(reason)
    case 'supply off':
      return `${reason.supply.name} ${offWords[reason.because]}.`
    case 'on battery':
      return `${reason.supply.name} is on its battery, which lasts ${durationWords(reason.seconds)}.`
    case 'path has a gap':
      return `the feed of ${reason.thing.name} has a gap.`
    case 'bypassed':
      return `${reason.device.name} opens its contact, but another way around it feeds ${reason.thing.name}.`
    case 'nothing asks':
      return `nothing asks ${reason.thing.name} for release.`
    case 'no alarm contact':
      return `nothing that the fire alarm works reaches ${reason.thing.name}.`
    case 'only asks':
      return `${reason.device.name} only asks ${reason.controller.name}, which is silent.`
    case 'not asked':
      return `${reason.controller.name} does not take the contact of ${reason.device.name} for a request.`
    case 'order does not reach':
      return reason.device === null
        ? `no controller holds ${reason.thing.name} released in open hours.`
        : `what ${reason.device.name} asks for does not reach ${reason.thing.name}.`
    case 'only shunts':
      return `${reason.device.name} only shunts the forced-door alarm; it changes no passage.`
    case 'only watched':
      return `${reason.device.name} is only watched; it changes no passage.`
    case 'only asks an operator':
      return `${reason.device.name} only asks an operator; it releases nothing.`
    case 'reaches nothing':
      return `${reason.device.name} reaches nothing that holds; it changes no passage.`
    case 'held open':
      return `${reason.thing.name} holds the ${reason.leaf.name} open.`
    case 'shuts':
      return `the ${reason.leaf.name} shuts by itself.`
    case 'nothing shuts it':
      return `nothing shuts the ${reason.leaf.name}; it stays where it is.`
    case 'latched by':
      return `${reason.thing.name} latches the leaf.`
    case 'does not relatch':
      return `${reason.thing.name} does not latch by itself when the leaf shuts.`
    case 'no positive latch':
      return `the ${reason.leaf.name} has no positive latch.`
    case 'not latched':
      return `${reason.thing.name} is drawn.`
    case 'opens after':
      return `the ${reason.leaf.name} opens only once the ${reason.first.name} is open.`
    case 'freer leaf':
      return `the ${reason.leaf.name} is the freer one.`
    case 'not known':
      return `not known: ${questionSentence(reason.question)}`
  }
}

const holdWords: Readonly<Record<GripForm, string>> = {
  'holds the leaf': 'holds both ways',
  'blocks hardware': 'stays locked',
  latches: 'stays thrown',
  'keeps a latch': 'stays locked',
  'holds the leaf open': 'holds the leaf open',
}

const letGoWords: Readonly<Record<GripForm, string>> = {
  'holds the leaf': 'lets go',
  'blocks hardware': 'is unlocked',
  latches: 'is drawn',
  'keeps a latch': 'lets go',
  'holds the leaf open': 'lets go',
}

const throwWords = {
  always: '',
  'by hand': ' by hand',
  'while a leaf is shut': ' while the leaves are shut',
} as const

/** What must be found out, as a question to a person. */
export function questionSentence(question: Question): string {
  const { thing } = question
  switch (question.about) {
    case 'battery':
      return `How long does the battery of ${thing} last?`
    case 'feed':
      return `What feeds ${thing}?`
    case 'contact':
      return `Is contact ${question.contact} of ${thing} closed or open ${question.when}?`
    case 'setting':
      return `How is ${question.setting} of ${thing} set?`
    case 'part':
      return `Which part is ${thing}?`
    case 'hold':
      return `Does ${thing} hold while it is fed, or while it is not?`
    case 'thrown':
      return `Is ${thing} thrown in use?`
    case 'delay':
      return `How many seconds does ${thing} wait?`
    case 'closer':
      return `Does something shut the ${thing}?`
    case 'relatching':
      return `Does ${thing} latch by itself when the leaf shuts?`
    case 'overlap':
      return `Can the ${thing} open before the other leaf?`
    case 'input':
      return `Does input ${question.input} of ${thing} act when closed, when open, or never?`
    case 'output':
      return `Is ${question.output} of ${thing} energised to release, or while secured?`
    case 'circuit':
      return `What was before? The circuit of ${thing} feeds back on itself.`
    case 'conflict':
      return `Which cause wins at contact ${question.contact} of ${thing}? Two say otherwise.`
  }
}

const byHand = (by: readonly UsedHardware[]): string =>
  by.length < 2 ? `by one motion of ${namesOf(by)}` : `by ${by.length} motions, of ${namesOf(by)}`

/** A passage in a few words: free, held, waits 15 s. */
export function easeWords(ease: Ease): string {
  switch (ease.form) {
    case 'free':
      return 'free'
    case 'free by hardware':
      return `free ${byHand(ease.by)}`
    case 'waits':
      return `free after ${durationWords(ease.seconds)} ${byHand(ease.by)}`
    case 'held':
      return 'held'
  }
}

export const passageWords = (passage: Passage): string =>
  passage.form === 'not known'
    ? `not known (${easeWords(passage.atBest)} at best, ${easeWords(passage.atWorst)} at worst)`
    : easeWords(passage)

export const latchedWords = (latched: Latched): string =>
  latched.form === 'not known' ? 'not known to latch' : latched.form

/** The margin's text for a passage or a latch: its reasons in order. */
export const sentencesOf = ({ reasons }: { readonly reasons: readonly Reason[] }): readonly string[] =>
  reasons.map(reasonSentence)

/** The condition as the beginning of a sentence. */
export function conditionWords(condition: Condition): string {
  const of = condition.of?.name ?? ''
  switch (condition.name) {
    case 'secured':
      return 'Secured'
    case 'open hours':
      return 'In open hours'
    case 'credential shown':
      return `When ${of} reads a credential`
    case 'exit asked':
      return `When ${of} asks`
    case 'manual release':
      return `When ${of} is pressed`
    case 'key turned':
      return `When ${of} is turned by key`
    case 'staff release':
      return `When ${of} is worked by staff`
    case 'other opening open':
      return `While ${of} is open`
    case 'fire alarm':
      return 'On fire alarm'
    case 'mains lost':
      return 'With the mains lost'
    case 'no power':
      return 'With neither mains nor battery'
    case 'sensor lost':
      return `When ${of} loses its own power`
    case 'controller silent':
      return 'While the controller is silent'
    case 'together':
      return joinedWords(condition.parts)
  }
}

/** While the controller is silent and when exit sensor S1 asks. */
function joinedWords(parts: readonly Condition[]): string {
  const words = parts.map(conditionWords).map((each) => each.charAt(0).toLowerCase() + each.slice(1))
  return capital(listed(words))
}

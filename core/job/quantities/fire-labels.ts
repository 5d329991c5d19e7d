// Fire labels: minutes, hours, classes, and the classifications models carry.
import type { LabelClass } from '../records.ts'
import { knownAs, notKnown, saysNothing, tidy, type Reading } from './reading.ts'

/** Minutes 0 is known to bear no label; null is not known. */
export interface FireLabel {
  readonly minutes: number | null
  readonly class: LabelClass | null
}

const isNot = 'a fire label'
const expected = 'minutes such as 90, hours such as 1-1/2 HR, a class A to E, or none'

const noLabel = new Set(
  [
    '0|no|n|nr|n/r|n.r.|n/a|na|n.a.|none|nil|-|--|---|no label|no rating|not rated|non-rated|non rated|nonrated',
    'nl|n/l|n.l.|unrated|unlabeled|unlabelled|non-labeled|non labeled|0 min|0 minutes|0 hr',
  ]
    .join('|')
    .split('|'),
)

/** Minutes that labels bear: standards.md 3 (20, 45, 60, 90, 180), with 30, 120 and 240 from other countries. */
const usualMinutes = [20, 30, 45, 60, 90, 120, 180, 240]

/** What a class says about minutes. Informational annex D of NFPA 80, as standards.md 3 records it [S63][S64]. */
const classMinutes: Readonly<Record<LabelClass, { minutes: number | null; asks: string | null }>> = {
  A: { minutes: 180, asks: null },
  B: { minutes: null, asks: 'Class B is 60 or 90 minutes; which does the label state?' },
  C: { minutes: null, asks: 'How many minutes does the class C label state (commonly 45)?' },
  D: { minutes: null, asks: 'How many minutes does the class D label state (commonly 90)?' },
  E: { minutes: null, asks: 'How many minutes does the class E label state (commonly 45)?' },
}
const classAllows: Readonly<Record<LabelClass, readonly number[]>> = {
  A: [180],
  B: [60, 90],
  C: [45],
  D: [90],
  E: [45],
}

/** An amount with its fraction: 3/4, 1-1/2, 1 1/2, 1.5, 90. */
function amount(text: string): number | null {
  const found = /^(?:(\d+(?:[.,]\d+)?|[.,]\d+)|(?:(\d+)[ -]+)?([13])\/([24]))$/.exec(text)
  if (found === null) return null
  if (found[1] !== undefined) return Number(found[1].replace(',', '.'))
  return Number(found[2] ?? 0) + Number(found[3]) / Number(found[4])
}

const time = String.raw`(\d+(?:[.,]\d+)?|[.,]\d+|(?:\d+[ -]+)?[13]/[24])`
const hoursAndMinutes = /^(\d) ?(?:h|hrs?\.?|hours?) ?(\d{2}) ?(?:m|mins?\.?|minutes?)$/
const timeWord = new RegExp(`^${time} ?-? ?(h|hrs?\\.?|hours?|m|mins?\\.?|minutes?)?$`)

/** Minutes of a time in words, and whether the unit had to be judged. */
function minutesOf(text: string): { minutes: number; judged: boolean } | null {
  const both = hoursAndMinutes.exec(text)
  if (both !== null) return { minutes: Number(both[1]) * 60 + Number(both[2]), judged: false }
  const found = timeWord.exec(text)
  if (found === null) return null
  const value = amount(found[1] ?? '')
  if (value === null) return null
  const unit = found[2]
  const inHours = unit === undefined ? value <= 4 : unit.startsWith('h')
  const minutes = inHours ? value * 60 : value
  if (!Number.isInteger(minutes) || minutes < 1 || minutes > 480) return null
  return { minutes, judged: unit === undefined && inHours }
}

/** EI30, E 60, EI2 30-C5, REI90, F90, T30-1, FD30S: the minutes stand after the letters. */
const classified = /^(rei|ei ?[12]?|ew|e|r|f|t|fd)[ -]?(15|20|30|45|60|90|120|180|240)(?:s|[ -].*)?$/
/** 60/60/60 and -/60/30: load bearing, integrity, insulation. A door is judged by the middle one. */
const threefold = /^(-|\d{2,3})\/(\d{2,3})\/(-|\d{2,3})$/

/**
 * Reads a fire label. N/A, NL and dashes mean that there is none (0 minutes), as schedules use them; blank and TBC mean not
 * known. A class alone gives its minutes only where the class fixes them.
 */
export function readFireLabel(text: string): Reading<FireLabel> {
  const plain = tidy(text).toLowerCase().replace(/\s+/g, ' ')
  if (noLabel.has(plain)) return knownAs({ minutes: 0, class: null }, 'read as no label')
  if (saysNothing(text)) return notKnown(text, isNot, expected)

  const three = threefold.exec(plain)
  if (three !== null) {
    const minutes = Number(three[2])
    const same = three[1] === three[2] && three[2] === three[3]
    return knownAs(
      { minutes, class: null },
      'the middle number, integrity',
      same ? null : `Is the label ${minutes} minutes? "${text.trim()}" states three times.`,
    )
  }
  const european = classified.exec(plain)
  // A class letter with its minutes (E 45) looks like integrity E with its minutes; both give the same minutes.
  if (european !== null) {
    const minutes = Number(european[2])
    return knownAs({ minutes, class: null }, `minutes of ${text.trim()}`)
  }

  const words = ` ${plain} `
    .replace(/[()[\],;:]/g, ' ')
    .replace(
      /(?<![a-z])(?:ul|label(?:l?ed)?|lbl\.?|class|cl\.?|rated|rating|fire|smoke|s|door)(?![a-z])/g,
      ' ',
    )
    .replace(/\s+/g, ' ')
    .trim()
  const letter =
    /^(?:([a-e])(?![a-z]))[ -]*(.*)$/.exec(words) ?? /^(.*?)[ -]*(?<![a-z])([a-e])$/.exec(words) ?? null
  const lettered = letter !== null && /^[a-e]$/.test(letter[1] ?? '')
  const labelClass = letter === null ? null : ((lettered ? letter[1] : letter[2]) ?? '').toUpperCase()
  const rest = letter === null ? words : ((lettered ? letter[2] : letter[1]) ?? '').trim()
  const said = rest === '' ? null : minutesOf(rest)
  if ((rest !== '' && said === null) || (rest === '' && labelClass === null))
    return notKnown(text, isNot, expected)

  const how = said?.judged ? 'read as hours' : null
  if (labelClass === null) {
    const minutes = said?.minutes ?? null
    const unusual = minutes !== null && !usualMinutes.includes(minutes)
    return knownAs({ minutes, class: null }, how, unusual ? `Do labels state ${minutes} minutes?` : null)
  }
  const named = labelClass as LabelClass
  if (said === null) {
    const { minutes, asks } = classMinutes[named]
    return knownAs({ minutes, class: named }, minutes === null ? null : `class ${named}, 3 hours`, asks)
  }
  const agrees = classAllows[named].includes(said.minutes)
  const question = `Class ${named} and ${said.minutes} minutes do not usually go together; which is on the label?`
  return knownAs({ minutes: said.minutes, class: named }, how, agrees ? null : question)
}

/** Writes a fire label that reads back the same: 90 min, 90 min B, class B, none; nothing when not known. */
export function writeFireLabel(label: FireLabel): string {
  if (label.minutes === 0) return 'none'
  const letter = label.class === null ? '' : label.class
  if (label.minutes === null) return letter === '' ? '' : `class ${letter}`
  return letter === '' ? `${label.minutes} min` : `${label.minutes} min ${letter}`
}

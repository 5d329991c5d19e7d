// Hands in the spellings people use. Judged standing at the keyed side, facing the door.
import { hands, type Hand } from '../records.ts'
import { knownAs, notKnown, tidy, type Reading } from './reading.ts'

export interface HandReading {
  readonly hand: Hand
  /** True when the spelling spoke of a pair's active leaf (LHRA). */
  readonly ofActiveLeaf: boolean
}

const isNot = 'a hand'
const expected = 'LH, RH, LHR or RHR, judged from the keyed side'

// RHRA and LHRA name a pair's active leaf: standards.md 11, from memory there.
const spelling =
  /^(?:(l|left)|(r|right))(?:h|hand|handed|hinged)?(r|rev|reverse|reversed|rb|revbevel|reversebevel|reversedbevel)?(a|active|activeleaf)?$/

/**
 * Reads a hand: LH, Left, L.H.R., left hand reverse, LHRB, RHRA. Spellings that do not say which side is keyed
 * (DIN left and right, a model's SINGLE_SWING_LEFT) are refused with a sentence.
 */
export function readHand(text: string): Reading<HandReading> {
  const plain = tidy(text)
    .toLowerCase()
    .replace(/^reversed? /, (word) => `${word}~`)
  const turned = /^reversed? ~(.*)$/.exec(plain)
  const letters = (turned === null ? plain : `${turned[1] ?? ''} reverse`).replace(/[\s.,()_-]/g, '')
  if (/^(din|iso|en)/.test(letters) || /links|rechts|gauche|droite/.test(letters))
    return notKnown(text, isNot, `${expected} (DIN left and right do not say which side is keyed)`)
  if (/swing(left|right)/.test(letters))
    return notKnown(text, isNot, `${expected} (a model does not say which side is keyed)`)
  if (/^(?:lhr?|rhr?)[/&+](?:lhr?|rhr?)$/.test(letters))
    return notKnown(text, 'one hand', 'the hand of the active leaf, such as RHRA')
  const found = spelling.exec(letters)
  if (found === null) return notKnown(text, isNot, expected)
  const side = found[1] === undefined ? 'R' : 'L'
  const hand: Hand = found[3] === undefined ? `${side}H` : `${side}HR`
  const ofActiveLeaf = found[4] !== undefined
  const oneLetter = letters.length === 1
  return knownAs(
    { hand, ofActiveLeaf },
    ofActiveLeaf ? 'hand of the active leaf' : letters === hand.toLowerCase() ? null : `read as ${hand}`,
    oneLetter ? `Only "${text.trim()}" was given; is it ${hand} or ${hand}R?` : null,
  )
}

/** The hands to choose from, with what a person sees at the keyed side. Source: standards.md 11. */
export const handMeanings: Readonly<Record<Hand, string>> = {
  LH: 'hinges left, pushes away',
  RH: 'hinges right, pushes away',
  LHR: 'hinges left, pulls toward you',
  RHR: 'hinges right, pulls toward you',
}

export const isHand = (text: string): text is Hand => (hands as readonly string[]).includes(text)

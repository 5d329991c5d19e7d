// Where panic hardware is required: several rules hang on it.
import { all, anyOf, isOne, lacks, no, not, servesAny, within, says, yes, type Check } from './checks.ts'
import { anyHold, noFittings, type OpeningToJudge } from './view.ts'

export const latchesOrLocks = (view: OpeningToJudge): Check =>
  anyHold(view, ({ grip }) => grip !== 'holds the leaf open', 'Nothing latches or locks this door.')

/** IBC 2006 and later: swinging doors that latch or lock, groups A and E from 50 people, group H from the first. */
export const panicRequiredByIbc = (view: OpeningToJudge): Check =>
  all(
    latchesOrLocks(view),
    says(view.facts, 'swings', 'It does not swing.'),
    anyOf(
      'It serves neither group H nor 50 people or more of groups A or E.',
      servesAny(view.facts, ['H'], 'no'),
      all(
        servesAny(view.facts, ['A', 'E'], 'no'),
        within(view.facts, 'occupant-load', { atLeast: 50 }, () => 'no'),
      ),
    ),
  )

/** NFPA 101: assembly, educational and day care from 100 people; high-hazard contents from more than 5. */
export const panicRequiredByNfpa101 = (view: OpeningToJudge): Check =>
  all(
    latchesOrLocks(view),
    anyOf(
      'It serves neither 100 people of assembly, educational or day care use nor more than 5 in high-hazard contents.',
      all(
        servesAny(view.facts, ['A', 'E', 'I-4'], 'no'),
        within(view.facts, 'occupant-load', { atLeast: 100 }, () => 'no'),
      ),
      within(view.facts, 'high-hazard-people', { above: 5 }, () => 'no'),
    ),
  )

/** Whether one motion on the egress side is that of an exit device. */
export function hasPanicHardware(view: OpeningToJudge): Check {
  if (view.fittings === null) return noFittings
  const has = view.fittings.some(
    ({ hardware }) => hardware?.side === 'egress' && hardware.motion === 'exit device',
  )
  return has ? yes : no('No exit device is fitted on the egress side.')
}

/** Electrical rooms whose doors need panic hardware; the IBC changed its measure in 2024. */
export function panicRequiredAtElectricalRoom(view: OpeningToJudge): Check {
  const { facts } = view
  const kind = facts.answer('electrical-room')
  if (!kind.known) return lacks('electrical-room')
  if (kind.value === 'no') return no('It serves no electrical room.')
  const edition = facts.answer('ibc-edition')
  if (!edition.known) return lacks('ibc-edition')
  if (edition.value === '2024')
    return anyOf(
      'Equipment under 800 A, or the door is 25 ft or more from the working space.',
      isOne(
        facts,
        'electrical-room',
        ['battery or energy storage', 'transformer vault', 'modular data centre'],
        'no',
      ),
      all(
        within(facts, 'equipment-amps', { atLeast: 800 }, () => 'no'),
        within(facts, 'working-space-distance', { below: 25 }, () => 'no'),
      ),
    )
  const isLarge = all(
    within(facts, 'equipment-amps', { atLeast: 1200 }, () => 'no'),
    says(facts, 'equipment-over-6-feet', 'no'),
  )
  return anyOf('Equipment under 1,200 A, or not over 6 ft wide.', isLarge)
}

/** NEC 110.26, 2014 and later. */
export const panicRequiredByNec = (view: OpeningToJudge): Check =>
  all(
    not(isOne(view.facts, 'electrical-room', ['no'], 'no'), 'It serves no electrical room.'),
    anyOf(
      'Equipment under 800 A and under 600 V, and no battery room.',
      isOne(view.facts, 'electrical-room', ['battery or energy storage'], 'no'),
      within(view.facts, 'equipment-amps', { atLeast: 800 }, () => 'no'),
      says(view.facts, 'equipment-over-600-volts', 'no'),
    ),
    within(
      view.facts,
      'working-space-distance',
      { atMost: 25 },
      () => 'It is more than 25 ft from the working space.',
    ),
  )

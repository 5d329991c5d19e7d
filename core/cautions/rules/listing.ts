import { isArranged } from '../arrangement.ts'
import { no, says, yes, type Check } from '../checks.ts'
import { allVerdicts, listingDocuments, readBut, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { isElectric, type OpeningView } from '../view.ts'

export const listing: Rule = {
  key: 'listing',
  sentence: 'The electric locking is listed to UL 294.',
  severity: 'breaks a rule',
  citations: [
    ibcSections.sensorRelease,
    ibcSections.hardwareRelease,
    ibcSections.delayedEgress,
    ibcSections.controlledEgress,
    ibcSections.elevatorLobby,
    nfpa101Sections.sensorRelease,
    nfpa101Sections.hardwareRelease,
    nfpa101Sections.delayedEgress,
    nfpa101Sections.elevatorLobby,
  ],
  content: readBut(
    'For NFPA 101 from memory. The model codes name no performance level.',
    'S5',
    'S2',
    'S6',
    'S15',
  ),
  leftToReader: [listingDocuments, 'Doors with normal hardware need no such listing under these sections.'],
  gives: allVerdicts,
  applies: ({ arrangement }) =>
    isArranged(
      arrangement,
      'sensor release',
      'release by hardware',
      'delayed',
      'staff-controlled',
      'elevator lobby',
    ),
  asks: (view) => [isListed(view)],
}

/** What the electric locks themselves declare, or else the answer for the door. */
function isListed({ facts, fittings }: OpeningView): Check {
  const answer = says(facts, 'listed-ul-294', 'The electric locking is not listed to UL 294.')
  if (answer.is !== 'unknown' || fittings === null) return answer
  const locks = fittings.filter(({ holds }) => holds.some((hold) => isElectric(hold) !== false))
  const unlisted = locks.find(({ listedAs }) => listedAs !== null && !listedAs.includes('UL 294'))
  if (unlisted !== undefined) return no(`${unlisted.name} is not listed to UL 294.`)
  return locks.length > 0 && locks.every(({ listedAs }) => listedAs !== null) ? yes : answer
}

import { describe, expect, test } from 'vitest'
import { mustAsk, standingLines, type StandingFacts } from '../../../core/handover/index.ts'

const nothing: StandingFacts = {
  openings: 2,
  notProved: [],
  failed: [],
  stale: [],
  cannotBeProved: [],
  canTrap: [],
  breaksRule: [],
  questions: 0,
  lowDevices: [],
  suppliesNotMet: [],
  suppliesNotKnown: [],
  openFindings: [],
  serialsMissing: { fittings: 0, openings: [] },
  installedNotKnown: [],
  signaturesMissing: [],
  unsigned: [],
  buildingCode: 'IBC 2021',
  hasEmail: true,
}
const door = { id: 'a', mark: '101' }

describe('what stands between a job and a seal', () => {
  test('is nothing where nothing is open', () => expect(standingLines(nothing)).toEqual([]))

  test.each([
    [{ canTrap: [door] }, 'stop', '1 opening can trap someone.', 'cautions'],
    [{ failed: [door, { id: 'b', mark: '102' }] }, 'stop', '2 openings have failed steps.', 'proving'],
    [{ stale: [door] }, 'question', '1 opening is no longer as it was proved.', 'proving'],
    [{ notProved: [door] }, 'question', '1 opening is not proved.', 'proving'],
    [
      { lowDevices: [{ name: '101 M1', openingId: 'a' }] },
      'question',
      '1 device does not have the volts to work with in the worst case: 101 M1.',
      'power',
    ],
    [{ questions: 3 }, 'question', '3 questions are open.', 'cautions'],
    [{ buildingCode: null }, 'question', 'Nobody has said which building code is in force.', 'cautions'],
    [{ openFindings: [{ words: 'x', mark: null }] }, 'question', '1 finding is open.', 'proving'],
    [
      { serialsMissing: { fittings: 4, openings: [door] } },
      'told',
      '4 fittings have no serial number.',
      'schedule',
    ],
    [{ signaturesMissing: ['training'] }, 'told', 'Nobody is named to sign for training.', 'handover'],
    [{ unsigned: ['Ada'] }, 'told', 'Not signed yet: Ada.', 'handover'],
  ] as const)('%o', (facts, weight, sentence, sheet) => {
    expect(standingLines({ ...nothing, ...facts })).toMatchObject([{ weight, sentence, sheet }])
  })

  test('asks first only where somebody could be hurt or a step failed, the trap first', () => {
    const lines = standingLines({ ...nothing, notProved: [door], failed: [door], canTrap: [door] })
    expect(mustAsk(lines)).toEqual(['1 opening can trap someone.', '1 opening has a failed step.'])
  })
})

// Saying where a fitting stands, for one opening or for its typical, and taking it back.
import { describe, expect, test } from 'vitest'
import { asId, type JobData, type Opening } from '../../../core/job/index.ts'
import {
  changesSomething,
  doorFromJob,
  fittingPlacements,
  placeCommand,
  preparationsOf,
  soffitCommand,
  type FittingPlacement,
  type PlacingChange,
} from '../../../core/preparation/index.ts'
import { command, plan } from '../../../core/schedule/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'
import { inch } from './samples.ts'

const openingOf = (data: JobData, mark: string): Opening => {
  const found = [...data.all('opening')].find((each) => each.mark === mark)
  if (found === undefined) throw new Error(`no opening ${mark}`)
  return found
}
function standing(data: JobData, mark: string, tag: string): FittingPlacement {
  const opening = openingOf(data, mark)
  const door = doorFromJob(data, opening)
  const found = fittingPlacements(
    data,
    opening,
    (key) => door.fittings.find((each) => each.key === key)?.side ?? null,
  ).find((each) => each.tag === tag)
  if (found === undefined) throw new Error(`${mark} has no ${tag}`)
  return found
}
let ids = 0
function carryOut(data: JobData, change: PlacingChange): void {
  const planned = plan(command.parse(change), data, () => `made-${(ids += 1)}`, null)
  if (!planned.ok) throw new Error(planned.problems.map(({ sentence }) => sentence).join(' '))
  data.apply(planned.change.edits)
}

describe('who says where a fitting stands', () => {
  const data = jobDataOf(demoRecords())
  test.each([
    ['118', 'M1', 'part', 'part'],
    ['118', 'C1', 'part', 'patterns'],
    ['133', 'H1', 'part', 'typical'],
  ])('%s %s: its place the %s, its side the %s', (mark, tag, place, side) => {
    const found = standing(data, mark, tag)
    expect([found.place.by, found.side.by]).toEqual([place, side])
  })

  // The leaf of LH and RH is pulled from the egress side, of LHR and RHR from the keyed side. Source: standards.md 11.
  test.each([
    ['117', 'LH', 'egress'],
    ['131', 'RH', 'egress'],
    ['118', 'LHR', 'keyed'],
    ['113', 'RHR', 'keyed'],
  ])('%s, %s: a contact in the rabbet is on the %s side', (mark, hand, side) => {
    expect(openingOf(data, mark).hand).toBe(hand)
    expect(standing(data, mark, 'C1').side.value).toBe(side)
  })
})

describe('saying it', () => {
  test('for one opening: a fitting that only followed its typical gets a record, and no other opening changes', () => {
    const data = jobDataOf(demoRecords())
    const fitting = { ...standing(data, '118', 'R1') }
    // As if the opening had no records of its own yet.
    const own = data.get('fitting', asId(fitting.fittingId ?? ''))
    data.apply([{ does: 'remove', kind: 'fitting', record: own as never }])
    const follows = standing(data, '118', 'R1')
    expect(follows.fittingId).toBeNull()
    carryOut(data, placeCommand(follows, 'opening', 'heightMicrometres', inch(44)))
    expect(standing(data, '118', 'R1')).toMatchObject({
      heightMicrometres: { value: inch(44), by: 'opening' },
      place: { value: 'wall', by: 'part' },
    })
    expect(standing(data, '131', 'R1').heightMicrometres).toEqual({ value: inch(42), by: 'part' })
  })

  test('for the typical: every opening that says nothing of its own follows', () => {
    const data = jobDataOf(demoRecords())
    carryOut(data, placeCommand(standing(data, '118', 'R1'), 'opening', 'heightMicrometres', inch(44)))
    carryOut(data, placeCommand(standing(data, '118', 'R1'), 'typical', 'heightMicrometres', inch(48)))
    expect(standing(data, '118', 'R1').heightMicrometres.value).toBe(inch(44))
    expect(standing(data, '131', 'R1').heightMicrometres).toEqual({ value: inch(48), by: 'typical' })
  })

  test('a placement that says nothing any more is removed', () => {
    const data = jobDataOf(demoRecords())
    const before = data.count('placement')
    carryOut(data, placeCommand(standing(data, '118', 'M1'), 'opening', 'acrossMicrometres', inch(20)))
    expect(data.count('placement')).toBe(before + 1)
    carryOut(data, placeCommand(standing(data, '118', 'M1'), 'opening', 'acrossMicrometres', null))
    expect(data.count('placement')).toBe(before)
  })

  test('nothing where nothing is said', () => {
    const data = jobDataOf(demoRecords())
    expect(changesSomething(placeCommand(standing(data, '118', 'M1'), 'opening', 'side', null))).toBe(false)
  })
})

describe('what it does to preparation', () => {
  test.each([
    // The 8 1/2 in. body needs 7/8 in. beside it: its middle cannot stand 4 in. from the strike edge.
    ['too near the edge', inch(4), /magnet body.*must stay clear/],
    ['over the hinge side', inch(34), /runs over the hinge-side frame edge/],
  ])('moved %s it is refused with a sentence', (_what, across, sentence) => {
    const data = jobDataOf(demoRecords())
    expect(preparationsOf(data, openingOf(data, '118').id)?.preparations[0]?.mayDrill).toBe(true)
    carryOut(data, placeCommand(standing(data, '118', 'M1'), 'opening', 'acrossMicrometres', across))
    const [magnet] = preparationsOf(data, openingOf(data, '118').id)?.preparations ?? []
    expect(magnet?.mayDrill).toBe(false)
    expect(magnet?.checks.map((each) => each.sentence).join(' ')).toMatch(sentence)
  })

  test.each([
    ['117', 'C2', /lies under the contact of C1/],
    ['112', 'L1', /more than 1 in\. may not be drilled on site under a 90 minute label/],
    ['117', 'K1', /cut pocket: under a 45 minute label/],
    ['R03', 'M1', /flat for 1" from the stop and 1 1\/2" is needed/],
    ['127', 'M1', /has no pattern for an aluminium frame/],
    ['304', 'C1', /has no pattern for a glass door/],
  ])('of the demo job, %s %s is refused', (mark, tag, sentence) => {
    const data = jobDataOf(demoRecords())
    const found = preparationsOf(data, openingOf(data, mark).id)?.preparations.find(
      (each) => each.tag === tag,
    )
    const refused = found?.checks.filter(({ verdict }) => verdict === 'caution') ?? []
    expect(refused.map((each) => each.sentence).join(' ')).toMatch(sentence)
    expect(found?.mayDrill).toBe(false)
  })

  test('a soffit that nobody measured is asked for, and answered', () => {
    const data = jobDataOf(demoRecords())
    const opening = openingOf(data, 'R02')
    const magnet = () => preparationsOf(data, opening.id)?.preparations.find(({ tag }) => tag === 'M1')
    const questions = magnet()?.checks.flatMap((each) => each.questions.map(({ words }) => words)) ?? []
    expect(questions).toEqual([
      'How deep is the flat underside of the frame head of R02, from the stop outwards?',
    ])
    carryOut(data, soffitCommand(opening, null, inch(2.25)))
    expect(magnet()?.mayDrill).toBe(true)
  })
})

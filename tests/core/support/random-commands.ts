// Commands a person could give the small job in any order, some of them impossible.
import fc from 'fast-check'
import { columnKeys, type Command } from '../../../core/schedule/index.ts'

const openingId = fc.constantFrom(...'abcdefghij', 'n1', 'n2', 'n3', 'n5', 'gone')
const openingIds = fc.array(openingId, { minLength: 1, maxLength: 4 })
const levelId = fc.constantFrom('ground', 'first', 'yard', 'n1', 'n2')
const buildingId = fc.constantFrom('main', 'annexe', 'n1')
const typicalId = fc.constantFrom('store', 'office', 'n1', 'n2')
const slotId = fc.constantFrom('store-lock', 'store-reader', 'office-lock', 'n1', 'n2', 'n3')
const fittingId = fc.constantFrom('a-lock', 'b-lock', 'c-lock', 'c-reader', 'c-extra', 'i-lock', 'n1', 'n2')
const partId = fc.constantFrom('lock', 'reader', 'magnet', 'gone')
const mark = fc.constantFrom('101', '102', '103', '104A', '104a', ' 201 ', 'Lobby', '2', '  ', 'x'.repeat(61))
const name = fc.constantFrom('Main', 'ground', 'Store room', 'New', ' New ', '  ', 'Other')
const words = fc.option(fc.constantFrom('Owner', 'Integrator', 'Electrician', ''))
const texts = [
  '101', '102', '103', '104A', '104a', '201', '2', 'B2-03', '', ' ', 'TBC', '?', 'x'.repeat(80),
  '3-0 x 7-0', 'PR 3-0 x 7-0', '6-0 x 8-0', '914 x 2134', '3-0 x 7-0 x 1 3/4', 'SGL 6-0 x 8-0',
  'RHR', 'left', 'none', '90 min', 'B', '1 3/4"', '2026-02-01', '2026-02-30',
  'Store room', 'office', 'Annexe', 'HM', 'Owner', 'Café, from 101',
] // prettier-ignore
const cell = fc.record({
  openingId,
  column: fc.constantFrom('mark' as const, 'size' as const, ...columnKeys),
  text: fc.constantFrom(...texts),
})
const trades = { furnishedBy: words, fittedBy: words, wiredBy: words, terminatedBy: words }
const partly = { requiredKeys: [] }

export const anyCommand: fc.Arbitrary<Command> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      does: fc.constant('set cells' as const),
      how: fc.constantFrom('type', 'paste', 'fill', 'clear'),
      cells: fc.array(cell, { minLength: 1, maxLength: 6 }),
      unreadable: fc.constantFrom('refuse', 'leave out', 'leave out'),
    }),
  },
  fc.record({
    does: fc.constant('add openings' as const),
    levelId,
    firstMark: fc.option(mark),
    count: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({ does: fc.constant('duplicate openings' as const), openingIds }),
  fc.record({ does: fc.constant('renumber openings' as const), openingIds, firstMark: mark }),
  fc.record({ does: fc.constant('move openings' as const), openingIds, levelId }),
  fc.record({ does: fc.constant('remove openings' as const), openingIds }),
  fc.record({
    does: fc.constant('set job' as const),
    fields: fc.record({ name, client: words, units: fc.constantFrom('imperial', 'metric') }, partly),
  }),
  fc.record({ does: fc.constant('add building' as const), name }),
  fc.record({ does: fc.constant('rename building' as const), buildingId, name }),
  fc.record({ does: fc.constant('remove building' as const), buildingId }),
  fc.record({ does: fc.constant('add level' as const), buildingId, name }),
  fc.record({ does: fc.constant('rename level' as const), levelId, name }),
  fc.record({ does: fc.constant('move level' as const), levelId, by: fc.constantFrom(1, -1) }),
  fc.record({ does: fc.constant('remove level' as const), levelId }),
  fc.record({ does: fc.constant('add typical' as const), name, likeTypicalId: fc.option(typicalId) }),
  fc.record({
    does: fc.constant('set typical' as const),
    typicalId,
    fields: fc.record({ name, description: words, ...trades }, partly),
  }),
  fc.record({ does: fc.constant('remove typical' as const), typicalId }),
  fc.record({
    does: fc.constant('add typical fitting' as const),
    typicalId,
    partId,
    tag: fc.option(fc.constantFrom('L1', 'M1', ' M2 ', ' ')),
  }),
  fc.record({
    does: fc.constant('set typical fitting' as const),
    typicalFittingId: slotId,
    fields: fc.record({ tag: fc.constantFrom('L1', 'M1', ' M2 ', ' '), partId, ...trades }, partly),
  }),
  fc.record({ does: fc.constant('remove typical fitting' as const), typicalFittingId: slotId }),
  fc.record({
    does: fc.constant('add fitting' as const),
    openingId,
    partId,
    tag: fc.option(fc.constantFrom('L1', 'M1', ' M2 ', ' ')),
  }),
  fc
    .record({
      openingId,
      typicalFittingId: fc.option(slotId),
      fittingId: fc.option(fittingId),
      fields: fc.record(
        {
          tag: fc.option(fc.constantFrom('L1', 'L9')),
          partId: fc.option(partId),
          leftOut: fc.boolean(),
          serial: words,
          ...trades,
        },
        partly,
      ),
    })
    .map((each) => ({ does: 'set fitting' as const, ...each })),
  fc.record({ does: fc.constant('remove fitting' as const), fittingId }),
)

export const commandSequence = fc.array(anyCommand, { minLength: 1, maxLength: 12 })

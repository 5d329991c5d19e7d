import { describe, expect, test } from 'vitest'
import type { JobData } from '../../../core/job/index.ts'
import { plan, scheduleFrame, type Command } from '../../../core/schedule/index.ts'
import { counter, everything, openingOf, smallJob } from '../support/small-job.ts'

const marks = (data: JobData, levelId: string): string =>
  data
    .referring('opening', 'levelId', levelId)
    .map((each) => each.mark)
    .join(' ')
const levels = (data: JobData): string =>
  scheduleFrame(data)
    .levels.map((each) => `${each.name} ${each.openings}`)
    .join(', ')
const typicals = (data: JobData): string =>
  scheduleFrame(data)
    .typicals.map(
      (each) => `${each.name}: ${each.fittings.map((one) => `${one.tag} ${one.part}`).join(', ')}`,
    )
    .join('; ')
const fitting = (id: string) => (data: JobData) => JSON.stringify(data.get('fitting', id)?.tag)

interface Deed {
  readonly command: Command
  readonly name: string
  /** What to look at afterwards, and what it says. */
  readonly look: (data: JobData) => string | undefined
  readonly says: string | undefined
  readonly reveal?: readonly string[]
}

const ground = (data: JobData): string => marks(data, 'ground')
const setFitting = { does: 'set fitting', openingId: 'f', typicalFittingId: null, fittingId: null } as const

describe('what is asked, under which name, and what it does', () => {
  const deeds: Deed[] = [
    {
      command: { does: 'add openings', levelId: 'ground', firstMark: null, count: 2 },
      name: 'Add 2 openings to Ground',
      look: ground,
      says: '101 102 104A 10 2 104B 104C',
      reveal: ['n1', 'n3'],
    },
    {
      command: { does: 'add openings', levelId: 'ground', firstMark: ' 100 ', count: 3 },
      name: 'Add 3 openings to Ground',
      look: ground,
      says: '101 102 104A 10 2 100 103 104',
    },
    {
      command: { does: 'duplicate openings', openingIds: ['a'] },
      name: 'Duplicate 101',
      look: ground,
      says: '101 102 104A 10 2 103',
      reveal: ['n1'],
    },
    {
      command: { does: 'duplicate openings', openingIds: ['a', 'b', 'a'] },
      name: 'Duplicate 2 openings',
      look: ground,
      says: '101 102 104A 10 2 103 104',
    },
    {
      command: { does: 'renumber openings', openingIds: ['c', 'd', 'e'], firstMark: ' 104A ' },
      name: 'Renumber 3 openings from 104A',
      look: ground,
      says: '101 102 104A 104B 104C',
    },
    {
      command: { does: 'move openings', openingIds: ['c', 'd'], levelId: 'first' },
      name: 'Move 2 openings to First',
      look: levels,
      says: 'Ground 3, First 5, Yard 2',
    },
    {
      command: { does: 'move openings', openingIds: ['f', 'd'], levelId: 'first' },
      name: 'Move 10 to First',
      look: levels,
      says: 'Ground 4, First 4, Yard 2',
    },
    {
      command: { does: 'remove openings', openingIds: ['a', 'c'] },
      name: 'Remove 2 openings',
      look: ground,
      says: '102 10 2',
    },
    {
      command: { does: 'set job', fields: { name: ' Clinic ', scheduleDate: '2028-02-29' } },
      name: 'Set job details',
      look: (data) => `${data.job.name} ${data.job.scheduleDate}`,
      says: 'Clinic 2028-02-29',
    },
    {
      command: { does: 'add building', name: ' Shed ' },
      name: 'Add building Shed',
      look: (data) =>
        scheduleFrame(data)
          .buildings.map((each) => each.name)
          .join(', '),
      says: 'Main, Annexe, Shed',
    },
    {
      command: { does: 'rename building', buildingId: 'annexe', name: 'Shed' },
      name: 'Rename Annexe to Shed',
      look: (data) => data.get('building', 'annexe')?.name,
      says: 'Shed',
    },
    {
      command: { does: 'add level', buildingId: 'main', name: 'Roof' },
      name: 'Add level Roof',
      look: levels,
      says: 'Ground 5, First 3, Roof 0, Yard 2',
    },
    {
      // Two buildings may both have a ground level.
      command: { does: 'rename level', levelId: 'yard', name: 'Ground' },
      name: 'Rename Yard to Ground',
      look: levels,
      says: 'Ground 5, First 3, Ground 2',
    },
    {
      command: { does: 'move level', levelId: 'ground', by: 1 },
      name: 'Move level Ground down the list',
      look: levels,
      says: 'First 3, Ground 5, Yard 2',
    },
    {
      command: { does: 'move level', levelId: 'ground', by: -1 },
      name: 'Move level Ground up the list',
      look: levels,
      says: 'Ground 5, First 3, Yard 2',
    },
    {
      command: { does: 'add typical', name: 'Stair', likeTypicalId: null },
      name: 'Add typical Stair',
      look: typicals,
      says: 'Store room: L1 Electrified lock, R1 Card reader; Office: L1 Electrified lock; Stair: ',
    },
    {
      command: { does: 'add typical', name: 'Stair', likeTypicalId: 'store' },
      name: 'Add typical Stair, like Store room',
      look: (data) =>
        `${typicals(data).split('; ')[2] ?? ''}; ${data.count('link')} links, ${data.count('settingValue')} settings`,
      says: 'Stair: L1 Electrified lock, R1 Card reader; 4 links, 4 settings',
    },
    {
      command: { does: 'set typical', typicalId: 'office', fields: { name: ' Study ', wiredBy: 'Owner' } },
      name: 'Change typical Office',
      look: (data) => `${data.get('typical', 'office')?.name}, ${data.get('typical', 'office')?.wiredBy}`,
      says: 'Study, Owner',
    },
    {
      command: { does: 'add typical fitting', typicalId: 'office', partId: 'lock', tag: null },
      name: 'Add Electrified lock to typical Office',
      look: (data) => typicals(data).split('; ')[1],
      says: 'Office: L1 Electrified lock, L2 Electrified lock',
    },
    {
      command: { does: 'set typical fitting', typicalFittingId: 'office-lock', fields: { tag: ' K1 ' } },
      name: 'Change L1 of typical Office',
      look: (data) => typicals(data).split('; ')[1],
      says: 'Office: K1 Electrified lock',
    },
    {
      command: { does: 'remove typical fitting', typicalFittingId: 'office-lock' },
      name: 'Take L1 out of typical Office',
      look: (data) => typicals(data).split('; ')[1],
      says: 'Office: ',
    },
    {
      command: { does: 'add fitting', openingId: 'c', partId: 'magnet', tag: null },
      name: 'Add Door magnet to 104A',
      look: fitting('n1'),
      says: '"M2"',
    },
    {
      command: { ...setFitting, typicalFittingId: 'store-lock', fields: { serial: 'S1', tag: undefined } },
      name: 'Change L1 of 201',
      look: (data) => JSON.stringify({ ...data.get('fitting', 'n1'), id: '' }),
      says: JSON.stringify({
        id: '',
        openingId: 'f',
        leafId: null,
        typicalFittingId: 'store-lock',
        position: 0,
        tag: null,
        partId: null,
        leftOut: false,
        furnishedBy: null,
        fittedBy: null,
        wiredBy: null,
        terminatedBy: null,
        serial: 'S1',
        installedOn: null,
        notes: null,
      }),
    },
    {
      // Nothing is said, so nothing is kept.
      command: { ...setFitting, typicalFittingId: 'store-lock', fields: { tag: null, leftOut: false } },
      name: 'Change L1 of 201',
      look: (data) => String(data.referring('fitting', 'openingId', 'f').length),
      says: '0',
    },
    {
      command: { ...setFitting, openingId: 'a', typicalFittingId: 'store-lock', fields: { tag: 'L5' } },
      name: 'Change L1 of 101',
      look: fitting('a-lock'),
      says: '"L5"',
    },
    {
      command: { ...setFitting, openingId: 'b', fittingId: 'b-lock', fields: { tag: null } },
      name: 'Change L9 of 102',
      look: fitting('b-lock'),
      says: 'null',
    },
    {
      command: { does: 'remove fitting', fittingId: 'b-lock' },
      name: 'Let L9 of 102 follow its typical again',
      look: fitting('b-lock'),
      says: undefined,
    },
    {
      command: { does: 'remove fitting', fittingId: 'c-extra' },
      name: 'Remove M1 of 104A',
      look: fitting('c-extra'),
      says: undefined,
    },
  ]
  test.each(deeds)('$name', ({ command, name, look, says, reveal }) => {
    const data = smallJob()
    const made = plan(command, data, counter())
    if (!made.ok) throw new Error(JSON.stringify(made.problems))
    expect(made.change.name).toBe(name)
    data.apply(made.change.edits)
    expect(look(data)).toBe(says)
    if (reveal !== undefined) expect(made.reveal).toEqual(reveal)
  })
  test('empty places can go', () => {
    const data = smallJob()
    const ask = (command: Command) => {
      const made = plan(command, data, counter())
      if (!made.ok) throw new Error(JSON.stringify(made.problems))
      data.apply(made.change.edits)
      return made.change.name
    }
    ask({ does: 'remove openings', openingIds: ['i', 'j'] })
    expect(ask({ does: 'remove level', levelId: 'yard' })).toBe('Remove level Yard')
    expect(ask({ does: 'remove building', buildingId: 'annexe' })).toBe('Remove building Annexe')
    ask({ does: 'add typical', name: 'Stair', likeTypicalId: 'store' })
    expect(ask({ does: 'remove typical', typicalId: 'n1' })).toBe('Remove typical Stair')
    expect([data.count('typicalFitting'), data.count('link'), data.count('settingValue')]).toEqual([3, 3, 3])
  })
  test('the last level cannot be moved below itself', () => {
    expect(plan({ does: 'move level', levelId: 'first', by: 1 }, smallJob(), counter())).toMatchObject({
      change: { edits: [] },
    })
  })
})

test('a copy has what was designed, not what belongs to the one door', () => {
  const data = smallJob()
  data.apply([
    { does: 'set', kind: 'opening', id: 'c', from: {}, to: { serial: 'S', assetTag: 'T', sourceId: 'g' } },
    { does: 'set', kind: 'fitting', id: 'c-lock', from: {}, to: { serial: 'S', installedOn: '2026-01-01' } },
  ])
  const made = plan({ does: 'duplicate openings', openingIds: ['c', 'b', 'a', 'j'] }, data, counter())
  if (!made.ok) throw new Error('refused')
  data.apply(made.change.edits)
  const [c, b, a, j] = made.reveal.map((id) => openingOf(data, id))
  const own = { serial: null, assetTag: null, installedOn: null, sourceId: null, source: null }
  expect(c).toEqual({ ...openingOf(data, 'c'), ...own, id: c?.id, mark: '104B' })
  expect(j).toEqual({ ...openingOf(data, 'j'), ...own, id: j?.id, mark: '103' })
  expect(data.referring('leaf', 'openingId', c?.id ?? '').map((leaf) => leaf.role)).toEqual([
    'active',
    'inactive',
  ])
  const [lock] = data.referring('fitting', 'openingId', c?.id ?? '')
  expect(lock).toMatchObject({ partId: 'magnet', serial: null, installedOn: null })
  expect(data.get('leaf', lock?.leafId ?? '')).toMatchObject({ openingId: c?.id, role: 'inactive' })
  const links = data.referring('link', 'openingId', c?.id ?? '')
  expect(links).toHaveLength(2)
  const ends = links.flatMap((link) => [link.fromFittingId, link.toFittingId]).filter((end) => end !== null)
  expect(ends.map((end) => data.get('fitting', end)?.openingId)).toEqual([c?.id, c?.id, c?.id])
  const settings = (openingId: string | undefined): string[] =>
    data
      .referring('fitting', 'openingId', openingId ?? '')
      .flatMap((each) => data.referring('settingValue', 'fittingId', each.id))
      .map((value) => `${value.stage} ${value.value}`)
  expect(settings(b?.id)).toEqual(['designed 9'])
  expect(settings(a?.id)).toEqual([])
  expect(data.count('proof')).toBe(1)
})

describe('what cannot be done', () => {
  const gone = 'An opening named in this change is no longer there; look at the schedule again.'
  const noLevel = 'That level is no longer there; look at the list of levels again.'
  const add = { does: 'add openings', levelId: 'ground', firstMark: null, count: 1 } as const
  const long = 'x'.repeat(61)
  test.each<[Command, string]>([
    [{ ...add, levelId: 'gone' }, noLevel],
    [{ ...add, firstMark: '104a' }, 'Ground already has an opening 104a; expected a mark of its own.'],
    [{ ...add, firstMark: '  ' }, 'No mark was given; expected a door number such as 104A.'],
    [{ ...add, firstMark: long }, `"${'x'.repeat(40)}…" is not a mark; expected at most 60 characters.`],
    [{ does: 'duplicate openings', openingIds: ['a', 'gone'] }, gone],
    [{ does: 'renumber openings', openingIds: ['gone'], firstMark: '1' }, gone],
    [
      { does: 'renumber openings', openingIds: ['a'], firstMark: ' ' },
      'No mark was given; expected a door number such as 104A.',
    ],
    [
      { does: 'renumber openings', openingIds: ['e', 'd', 'a'], firstMark: '100' },
      'Ground already has an opening 102, which is not among those being renumbered.',
    ],
    [{ does: 'move openings', openingIds: ['gone'], levelId: 'first' }, gone],
    [{ does: 'move openings', openingIds: ['a'], levelId: 'gone' }, noLevel],
    [
      { does: 'move openings', openingIds: ['c', 'a'], levelId: 'yard' },
      'Yard would have the mark 101 twice; renumber first.',
    ],
    [
      { does: 'move openings', openingIds: ['b', 'j'], levelId: 'first' },
      'First would have the mark 102 twice; renumber first.',
    ],
    [{ does: 'remove openings', openingIds: ['gone'] }, gone],
    [
      { does: 'set job', fields: { scheduleDate: '2026-02-30' } },
      '"2026-02-30" is not a day; expected year-month-day such as 2026-03-14.',
    ],
    [{ does: 'set job', fields: { name: ' ' } }, 'No name was given; expected a name for the job.'],
    [{ does: 'add building', name: 'main ' }, 'The job already has a building called Main.'],
    [{ does: 'add building', name: ' ' }, 'No name was given; expected a name for the building.'],
    [
      { does: 'rename building', buildingId: 'main', name: 'ANNEXE' },
      'The job already has a building called Annexe.',
    ],
    [
      { does: 'rename building', buildingId: 'main', name: ' ' },
      'No name was given; expected a name for the building.',
    ],
    [{ does: 'rename building', buildingId: 'gone', name: 'x' }, 'That building is no longer there.'],
    [{ does: 'remove building', buildingId: 'gone' }, 'That building is no longer there.'],
    [{ does: 'remove building', buildingId: 'main' }, 'Main still has 2 levels; remove those first.'],
    [{ does: 'remove building', buildingId: 'annexe' }, 'Annexe still has 1 level; remove those first.'],
    [{ does: 'add level', buildingId: 'gone', name: 'x' }, 'That building is no longer there.'],
    [{ does: 'add level', buildingId: 'main', name: 'first' }, 'Main already has a level called First.'],
    [
      { does: 'add level', buildingId: 'main', name: '\t' },
      'No name was given; expected a name for the level.',
    ],
    [
      { does: 'rename level', levelId: 'ground', name: ' first ' },
      'The building already has a level called First.',
    ],
    [
      { does: 'rename level', levelId: 'ground', name: ' ' },
      'No name was given; expected a name for the level.',
    ],
    [{ does: 'rename level', levelId: 'gone', name: 'x' }, 'That level is no longer there.'],
    [{ does: 'move level', levelId: 'gone', by: 1 }, 'That level is no longer there.'],
    [{ does: 'remove level', levelId: 'gone' }, 'That level is no longer there.'],
    [{ does: 'remove level', levelId: 'ground' }, 'Ground still has 5 openings; move or remove those first.'],
    [
      { does: 'add typical', name: ' OFFICE', likeTypicalId: null },
      'The job already has a typical called Office.',
    ],
    [
      { does: 'add typical', name: ' ', likeTypicalId: null },
      'No name was given; expected a name for the typical.',
    ],
    [{ does: 'add typical', name: 'x', likeTypicalId: 'gone' }, 'That typical is no longer there.'],
    [{ does: 'set typical', typicalId: 'gone', fields: {} }, 'That typical is no longer there.'],
    [
      { does: 'set typical', typicalId: 'office', fields: { name: 'store room ' } },
      'The job already has a typical called Store room.',
    ],
    [
      { does: 'set typical', typicalId: 'office', fields: { name: ' ' } },
      'No name was given; expected a name for the typical.',
    ],
    [{ does: 'remove typical', typicalId: 'gone' }, 'That typical is no longer there.'],
    [
      { does: 'remove typical', typicalId: 'store' },
      '5 openings follow Store room; give those another typical first.',
    ],
    [
      { does: 'add typical fitting', typicalId: 'gone', partId: 'lock', tag: null },
      'That typical is no longer there.',
    ],
    [
      { does: 'add typical fitting', typicalId: 'store', partId: 'gone', tag: null },
      'That part is no longer in this job’s parts.',
    ],
    [
      { does: 'add typical fitting', typicalId: 'store', partId: 'lock', tag: ' R1 ' },
      'Store room already has a fitting tagged R1.',
    ],
    [
      { does: 'set typical fitting', typicalFittingId: 'gone', fields: {} },
      'That fitting is no longer there.',
    ],
    [
      { does: 'set typical fitting', typicalFittingId: 'store-lock', fields: { tag: 'R1 ' } },
      'Store room already has a fitting tagged R1.',
    ],
    [
      { does: 'set typical fitting', typicalFittingId: 'store-lock', fields: { tag: ' ' } },
      'No tag was given; expected a tag such as M1.',
    ],
    [
      { does: 'set typical fitting', typicalFittingId: 'store-lock', fields: { partId: 'gone' } },
      'That part is no longer in this job’s parts.',
    ],
    [{ does: 'remove typical fitting', typicalFittingId: 'gone' }, 'That fitting is no longer there.'],
    [{ does: 'add fitting', openingId: 'gone', partId: 'lock', tag: null }, gone],
    [
      { does: 'add fitting', openingId: 'c', partId: 'gone', tag: null },
      'That part is no longer in this job’s parts.',
    ],
    [
      { does: 'add fitting', openingId: 'c', partId: 'lock', tag: 'L1' },
      '104A already has a fitting tagged L1.',
    ],
    [{ ...setFitting, openingId: 'gone', fields: {} }, gone],
    [{ ...setFitting, fields: {} }, 'That fitting is no longer there.'],
    [{ ...setFitting, typicalFittingId: 'office-lock', fields: {} }, 'That fitting is no longer there.'],
    [{ ...setFitting, fittingId: 'a-lock', fields: {} }, 'That fitting is no longer there.'],
    [
      { ...setFitting, typicalFittingId: 'store-lock', fields: { partId: 'gone' } },
      'That part is no longer in this job’s parts.',
    ],
    [{ does: 'remove fitting', fittingId: 'gone' }, 'That fitting is no longer there.'],
  ])('%j', (command, sentence) => {
    const data = smallJob()
    const before = everything(data)
    const made = plan(command, data, counter())
    expect(made).toEqual({ ok: false, problems: [{ openingId: null, column: null, sentence }] })
    expect(everything(data)).toEqual(before)
  })
  test('one opening follows, several follow', () => {
    const data = smallJob()
    const cells = [{ openingId: 'd', column: 'typical' as const, text: '' }]
    const made = plan({ does: 'set cells', how: 'clear', cells, unreadable: 'refuse' }, data, counter())
    if (made.ok) data.apply(made.change.edits)
    expect(plan({ does: 'remove typical', typicalId: 'office' }, data, counter())).toMatchObject({
      problems: [{ sentence: '1 opening follows Office; give it another typical first.' }],
    })
  })
})

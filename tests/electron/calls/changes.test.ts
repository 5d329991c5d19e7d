// Every command once, what is refused, and undo over restarts.
import { describe, expect, test } from 'vitest'
import type { ScheduleSnapshot } from '../../../core/contract/index.ts'
import type { Command, ScheduleRow } from '../../../core/schedule/index.ts'
import { start, startEmpty, withoutHistory, type Running } from './support.ts'

/** What a command needs to name what is there by now. */
interface Seen {
  readonly snapshot: ScheduleSnapshot
  readonly row: (mark: string) => ScheduleRow
  readonly level: (name: string) => string
  readonly building: (name: string) => string
  readonly typical: (name: string) => string
  /** Fittings of an opening as the opening's page tells them. */
  readonly running: Running
}

async function look(running: Running): Promise<Seen> {
  const snapshot = await running.schedule()
  const { frame, rows } = snapshot
  const found = <Each>(each: Each | undefined, name: string): Each => {
    if (each === undefined) throw new Error(`nothing called ${name}`)
    return each
  }
  return {
    snapshot,
    running,
    row: (mark) =>
      found(
        rows.find((each) => each.mark === mark),
        mark,
      ),
    level: (name) =>
      found(
        frame.levels.find((each) => each.name === name),
        name,
      ).id,
    building: (name) =>
      found(
        frame.buildings.find((each) => each.name === name),
        name,
      ).id,
    typical: (name) =>
      found(
        frame.typicals.find((each) => each.name === name),
        name,
      ).id,
  }
}

const fittingOf = async ({ running, row }: Seen, mark: string, tag: string) => {
  const page = await running.ask('opening.read', { openingId: row(mark).id })
  const fitting = page.fittings.find((each) => each.tag === tag)
  if (fitting === undefined) throw new Error(`no fitting ${tag} on ${mark}`)
  return fitting
}
const slotOf = async ({ running, typical }: Seen, name: string, tag: string): Promise<string> => {
  const page = await running.ask('typical.read', { typicalId: typical(name) })
  return page.fittings.find((each) => each.tag === tag)?.id ?? ''
}
const partOf = ({ snapshot }: Seen, kind: string): string =>
  snapshot.parts.find((each) => each.kind.includes(kind))?.id ?? ''

type Step = readonly [
  name: string,
  command: (seen: Seen) => Command | Promise<Command>,
  check: (seen: Seen) => unknown,
  expected: unknown,
]

const steps: readonly Step[] = [
  [
    'Set job details',
    () => ({ does: 'set job', fields: { client: 'Harrow Street Clinic', scheduleIssue: '1' } }),
    ({ snapshot }) => snapshot.frame.job.scheduleIssue,
    '1',
  ],
  [
    'Add building Annex',
    () => ({ does: 'add building', name: 'Annex' }),
    ({ snapshot }) => snapshot.frame.buildings.map((each) => each.name),
    ['Main building', 'Annex'],
  ],
  [
    'Rename Annex to West annex',
    (seen) => ({ does: 'rename building', buildingId: seen.building('Annex'), name: 'West annex' }),
    ({ snapshot }) => snapshot.frame.buildings.map((each) => each.name),
    ['Main building', 'West annex'],
  ],
  [
    'Remove building West annex',
    (seen) => ({ does: 'remove building', buildingId: seen.building('West annex') }),
    ({ snapshot }) => snapshot.frame.buildings.length,
    1,
  ],
  [
    'Add level Level 0',
    (seen) => ({ does: 'add level', buildingId: seen.building('Main building'), name: 'Level 0' }),
    ({ snapshot }) => snapshot.frame.levels.map((each) => each.name),
    ['Level 1', 'Level 0'],
  ],
  [
    'Move level Level 0 up the list',
    (seen) => ({ does: 'move level', levelId: seen.level('Level 0'), by: -1 }),
    ({ snapshot }) => snapshot.frame.levels.map((each) => each.name),
    ['Level 0', 'Level 1'],
  ],
  [
    'Rename Level 0 to Basement',
    (seen) => ({ does: 'rename level', levelId: seen.level('Level 0'), name: 'Basement' }),
    ({ snapshot }) => snapshot.frame.levels.map((each) => each.name),
    ['Basement', 'Level 1'],
  ],
  [
    'Add 4 openings to Level 1',
    (seen) => ({ does: 'add openings', levelId: seen.level('Level 1'), firstMark: '101', count: 4 }),
    ({ snapshot }) => snapshot.rows.map((each) => each.mark).toSorted(),
    ['101', '102', '103', '104'],
  ],
  [
    'Set size of 101',
    (seen) => ({
      does: 'set cells',
      how: 'type',
      unreadable: 'refuse',
      cells: [{ openingId: seen.row('101').id, column: 'size', text: '3-0 x 7-0' }],
    }),
    ({ row }) => [row('101').widthMicrometres, row('101').heightMicrometres],
    [914_400, 2_133_600],
  ],
  [
    'Paste 4 cells of 2 openings',
    (seen) => ({
      does: 'set cells',
      how: 'paste',
      unreadable: 'refuse',
      cells: ['102', '103'].flatMap((mark) => [
        { openingId: seen.row(mark).id, column: 'hand' as const, text: 'rhr' },
        { openingId: seen.row(mark).id, column: 'material' as const, text: 'HM' },
      ]),
    }),
    ({ row }) => [row('102').hand, row('103').doorMaterial],
    ['RHR', 'HM'],
  ],
  [
    'Fill hand of 104',
    (seen) => ({
      does: 'set cells',
      how: 'fill',
      unreadable: 'leave out',
      cells: [
        { openingId: seen.row('104').id, column: 'hand', text: 'LH' },
        { openingId: seen.row('101').id, column: 'hand', text: 'sideways' },
      ],
    }),
    ({ row }) => [row('104').hand, row('101').hand],
    ['LH', null],
  ],
  [
    'Clear hand of 104',
    (seen) => ({
      does: 'set cells',
      how: 'clear',
      unreadable: 'refuse',
      cells: [{ openingId: seen.row('104').id, column: 'hand', text: '' }],
    }),
    ({ row }) => row('104').hand,
    null,
  ],
  [
    'Add typical Store room',
    () => ({ does: 'add typical', name: 'Store room', likeTypicalId: null }),
    ({ snapshot }) => snapshot.frame.typicals.find((each) => each.name === 'Store room')?.fittings,
    [],
  ],
  [
    'Change typical Store room',
    (seen) => ({
      does: 'set typical',
      typicalId: seen.typical('Store room'),
      fields: { description: 'Locked from outside, free from inside', furnishedBy: 'Integrator' },
    }),
    ({ snapshot }) => snapshot.frame.typicals.find((each) => each.name === 'Store room')?.furnishedBy,
    'Integrator',
  ],
  [
    'Add .+ to typical Store room',
    (seen) => ({
      does: 'add typical fitting',
      typicalId: seen.typical('Store room'),
      partId: partOf(seen, 'strike'),
      tag: 'K1',
    }),
    ({ snapshot }) =>
      snapshot.frame.typicals.find((each) => each.name === 'Store room')?.fittings.map((each) => each.tag),
    ['K1'],
  ],
  [
    'Set typical of 101',
    (seen) => ({
      does: 'set cells',
      how: 'type',
      unreadable: 'refuse',
      cells: [{ openingId: seen.row('101').id, column: 'typical', text: 'store room' }],
    }),
    ({ row }) => [row('101').typicalName, row('101').furnishedBy],
    ['Store room', 'Integrator'],
  ],
  [
    'Change K1 of typical Store room',
    async (seen) => ({
      does: 'set typical fitting',
      typicalFittingId: await slotOf(seen, 'Store room', 'K1'),
      fields: { notes: 'Fail secure' },
    }),
    async (seen) => (await fittingOf(seen, '101', 'K1')).part?.id === partOf(seen, 'strike'),
    true,
  ],
  [
    'Change K1 of 101',
    async (seen) => ({
      does: 'set fitting',
      openingId: seen.row('101').id,
      typicalFittingId: await slotOf(seen, 'Store room', 'K1'),
      fittingId: null,
      fields: { serial: '2611-04', fittedBy: 'Owner' },
    }),
    ({ row }) => row('101').differing,
    1,
  ],
  [
    'Add .+ to 102',
    (seen) => ({
      does: 'add fitting',
      openingId: seen.row('102').id,
      partId: partOf(seen, 'contact'),
      tag: 'C9',
    }),
    async (seen) => (await fittingOf(seen, '102', 'C9')).tag,
    'C9',
  ],
  [
    'Remove C9 of 102',
    async (seen) => ({
      does: 'remove fitting',
      fittingId: (await fittingOf(seen, '102', 'C9')).fitting?.id ?? '',
    }),
    async ({ running, row }) =>
      (await running.ask('opening.read', { openingId: row('102').id })).fittings.length,
    0,
  ],
  [
    'Duplicate 101',
    (seen) => ({ does: 'duplicate openings', openingIds: [seen.row('101').id] }),
    ({ snapshot }) => snapshot.rows.filter((each) => each.typicalName === 'Store room').length,
    2,
  ],
  [
    'Renumber 2 openings from 201',
    (seen) => ({
      does: 'renumber openings',
      openingIds: [seen.row('103').id, seen.row('104').id],
      firstMark: '201',
    }),
    ({ snapshot }) => snapshot.rows.filter((each) => each.mark.startsWith('20')).map((each) => each.mark),
    ['201', '202'],
  ],
  [
    'Move 2 openings to Basement',
    (seen) => ({
      does: 'move openings',
      openingIds: [seen.row('201').id, seen.row('202').id],
      levelId: seen.level('Basement'),
    }),
    ({ snapshot }) => snapshot.frame.levels.map((each) => each.openings),
    [2, 3],
  ],
  [
    'Remove 2 openings',
    (seen) => ({ does: 'remove openings', openingIds: [seen.row('201').id, seen.row('202').id] }),
    ({ snapshot }) => snapshot.rows.length,
    3,
  ],
  [
    'Remove level Basement',
    (seen) => ({ does: 'remove level', levelId: seen.level('Basement') }),
    ({ snapshot }) => snapshot.frame.levels.map((each) => each.name),
    ['Level 1'],
  ],
  [
    'Take K1 out of typical Store room',
    async (seen) => ({
      does: 'remove typical fitting',
      typicalFittingId: await slotOf(seen, 'Store room', 'K1'),
    }),
    ({ snapshot }) => snapshot.frame.typicals.find((each) => each.name === 'Store room')?.fittings,
    [],
  ],
  [
    'Add typical Store room two, like Store room',
    (seen) => ({
      does: 'add typical',
      name: 'Store room two',
      likeTypicalId: seen.typical('Store room'),
    }),
    ({ snapshot }) => snapshot.frame.typicals.find((each) => each.name === 'Store room two')?.furnishedBy,
    'Integrator',
  ],
  [
    'Remove typical Store room two',
    (seen) => ({ does: 'remove typical', typicalId: seen.typical('Store room two') }),
    ({ snapshot }) => snapshot.frame.typicals.some((each) => each.name === 'Store room two'),
    false,
  ],
]

describe('every command', () => {
  test('does what it says under its name; undo and redo go back and forth over restarts', async () => {
    let running: Running & { home: string } = await startEmpty()
    const { home } = running
    const states = [withoutHistory(await running.twin())]
    for (const [name, command, check, expected] of steps) {
      const made = await running.change(await command(await look(running)))
      expect.soft(made.name).toMatch(new RegExp(`^${name}$`))
      expect(made.state).toMatchObject({ undoName: made.name, redoName: null, revision: states.length })
      expect(await check(await look(running)), name).toEqual(expected)
      states.push(withoutHistory(await running.twin()))
    }
    const seen: boolean[] = []
    const compare = async (index: number) =>
      void seen.push(withoutHistory(await running.twin()) === states[index])
    for (let index = steps.length - 1; index >= 0; index -= 1) {
      if (index % 9 === 4) {
        await running.close()
        running = { ...(await start(home)), home }
      }
      await running.ask('change.undo', {})
      await compare(index)
    }
    expect(await running.refusal('change.undo', {})).toEqual({
      code: 'nothing-to-undo',
      sentence: 'There is nothing to undo.',
    })
    for (let index = 1; index <= steps.length; index += 1) {
      if (index % 9 === 4) {
        await running.close()
        running = { ...(await start(home)), home }
      }
      await running.ask('change.redo', {})
      await compare(index)
    }
    expect(seen).toEqual(seen.map(() => true))
    expect((await running.refusal('change.redo', {})).code).toBe('nothing-to-redo')
    const { entries } = await running.ask('history.read', { limit: 2000 })
    expect(entries.map((entry) => entry.state)).toEqual(steps.map(() => 'done'))
    expect(entries[0]).toMatchObject({ seq: steps.length, who: 'Ada Fitter' })
    expect((await running.ask('history.read', { limit: 3 })).entries).toEqual(entries.slice(0, 3))
  })

  test('an outcome carries the rows that changed, those to see, and the frame only where it changed', async () => {
    const running = await startEmpty()
    const seen = await look(running)
    const added = await running.change({
      does: 'add openings',
      levelId: seen.level('Level 1'),
      firstMark: '1',
      count: 2,
    })
    expect(added.changed.map((row) => row.mark)).toEqual(['1', '2'])
    expect(added.reveal).toEqual(added.changed.map((row) => row.id))
    expect(added.frame?.levels[0]?.openings).toBe(2)
    const [first] = added.changed
    const set = await running.change({
      does: 'set cells',
      how: 'type',
      unreadable: 'leave out',
      cells: [
        { openingId: first?.id ?? '', column: 'notes', text: 'Glazed' },
        { openingId: first?.id ?? '', column: 'size', text: 'big' },
      ],
    })
    expect(set.changed.map((row) => [row.mark, row.notes])).toEqual([['1', 'Glazed']])
    expect(set.frame).toBeNull()
    expect(set.leftOut).toMatchObject([{ openingId: first?.id, column: 'size' }])
    expect(set.leftOut[0]?.sentence).toMatch(/big/)
    const removed = await running.change({ does: 'remove openings', openingIds: [first?.id ?? ''] })
    expect([removed.changed, removed.removed]).toEqual([[], [first?.id]])
    const back = await running.ask('change.undo', {})
    expect([back.changed.map((row) => row.notes), back.removed]).toEqual([['Glazed'], []])
  })

  test('a change that changes nothing is not written down', async () => {
    const running = await startEmpty()
    const before = await running.twin()
    const made = await running.change({ does: 'set job', fields: { name: 'Ward block' } })
    expect(made.state).toMatchObject({ revision: 0, undoName: null })
    expect(await running.twin()).toBe(before)
  })
})

const nowhere = 'no-such-id'
const refusals: readonly (readonly [what: string, command: (seen: Seen) => Command, sentence: RegExp])[] = [
  [
    'a size nobody can read',
    (seen) => ({
      does: 'set cells',
      how: 'type',
      unreadable: 'refuse',
      cells: [
        { openingId: seen.row('101').id, column: 'size', text: 'about a metre' },
        { openingId: seen.row('101').id, column: 'hand', text: 'LH' },
        { openingId: seen.row('102').id, column: 'hand', text: 'sideways' },
      ],
    }),
    /101.*about a metre.* 1 more could not be read either\. Nothing was changed\.$/,
  ],
  [
    'a mark twice on a level',
    (seen) => ({
      does: 'set cells',
      how: 'type',
      unreadable: 'refuse',
      cells: [{ openingId: seen.row('102').id, column: 'mark', text: '101' }],
    }),
    /101.* Nothing was changed\.$/,
  ],
  [
    'an opening that is gone',
    () => ({ does: 'duplicate openings', openingIds: [nowhere] }),
    /no longer there.* Nothing was changed\.$/,
  ],
  [
    'a level that is gone',
    () => ({ does: 'add openings', levelId: nowhere, firstMark: null, count: 1 }),
    /level is no longer there/,
  ],
  [
    'moving to a level that is gone',
    (seen) => ({ does: 'move openings', openingIds: [seen.row('101').id], levelId: nowhere }),
    /no longer there/,
  ],
  [
    'a level with openings',
    (seen) => ({ does: 'remove level', levelId: seen.level('Level 1') }),
    /^Level 1 still has 2 openings; move or remove those first\./,
  ],
  [
    'a building with levels',
    (seen) => ({ does: 'remove building', buildingId: seen.building('Main building') }),
    /^Main building still has 1 level; remove those first\./,
  ],
  [
    'a building’s name twice',
    () => ({ does: 'add building', name: ' main BUILDING ' }),
    /already has a building called Main building/,
  ],
  ['a name of blanks', () => ({ does: 'add building', name: '   ' }), /Nothing was changed\.$/],
  [
    'a level’s name twice',
    (seen) => ({ does: 'add level', buildingId: seen.building('Main building'), name: 'level 1' }),
    /already has a level called Level 1/,
  ],
  ['a day that is none', () => ({ does: 'set job', fields: { scheduleDate: '2026-02-30' } }), /not a day/],
  [
    'a typical’s name twice',
    (seen) => ({
      does: 'add typical',
      name: seen.snapshot.frame.typicals[0]?.name ?? '',
      likeTypicalId: null,
    }),
    /already has a typical called/,
  ],
  [
    'a typical in use',
    (seen) => ({ does: 'remove typical', typicalId: seen.row('102').typicalId ?? '' }),
    /^1 opening follows .+; give it another typical first\./,
  ],
  [
    'a part that is gone',
    (seen) => ({ does: 'add fitting', openingId: seen.row('101').id, partId: nowhere, tag: null }),
    /part is no longer/,
  ],
  ['a fitting that is gone', () => ({ does: 'remove fitting', fittingId: nowhere }), /no longer there/],
]

describe('what is refused', () => {
  test('changes nothing, and says why in words', async () => {
    const running = await startEmpty()
    const at = await look(running)
    await running.change({
      does: 'add openings',
      levelId: at.level('Level 1'),
      firstMark: '101',
      count: 2,
    })
    const typical = at.snapshot.frame.typicals[0]?.name ?? ''
    const { row } = await look(running)
    await running.change({
      does: 'set cells',
      how: 'type',
      unreadable: 'refuse',
      cells: [{ openingId: row('102').id, column: 'typical', text: typical }],
    })
    const before = await running.twin()
    const seen = await look(running)
    for (const [what, command, sentence] of refusals) {
      const problem = await running.refusal('change.make', { command: command(seen) })
      expect(problem.code, what).toBe('not-possible')
      expect(problem.sentence, what).toMatch(sentence)
      expect(problem.details, what).not.toEqual([])
    }
    expect(await running.twin()).toBe(before)
  })

  test.each([
    ['no command', {}],
    ['an unknown deed', { command: { does: 'burn' } }],
    ['a missing field', { command: { does: 'add building' } }],
    ['a field too many', { command: { does: 'add building', name: 'A', by: 'me' } }],
    ['no cells', { command: { does: 'set cells', how: 'type', unreadable: 'refuse', cells: [] } }],
  ])('%s is not understood', async (_, input) => {
    const running = await startEmpty()
    const before = await running.twin()
    const answer = await running.program.answer({ call: 'change.make', input })
    expect(answer).toMatchObject({ ok: false, problem: { code: 'input-not-understood' } })
    expect(await running.twin()).toBe(before)
  })
})

test('a change made by one program after another: who did what is told', async () => {
  const running = await startEmpty()
  await running.change({ does: 'add building', name: 'Annex' })
  await running.close()
  const second = await start(running.home, { who: 'Ben Desk' })
  await second.change({ does: 'add building', name: 'Gate house' })
  await second.ask('change.undo', {})
  const { entries } = await second.ask('history.read', { limit: 10 })
  expect(entries.map(({ name, who, state }) => [name, who, state])).toEqual([
    ['Add building Gate house', 'Ben Desk', 'undone'],
    ['Add building Annex', 'Ada Fitter', 'done'],
  ])
  await second.change({ does: 'add building', name: 'Boiler house' })
  const after = await second.ask('history.read', { limit: 10 })
  expect(after.entries.map(({ name, state }) => [name, state])).toEqual([
    ['Add building Boiler house', 'done'],
    ['Add building Gate house', 'dropped'],
    ['Add building Annex', 'done'],
  ])
})

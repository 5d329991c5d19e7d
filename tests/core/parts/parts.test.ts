// Parts copied, renamed, removed, compared, counted and brought in.
import { describe, expect, test } from 'vitest'
import { JobData, type JobRecord } from '../../../core/job/index.ts'
import {
  bringIn,
  compareParts,
  copyPart,
  doesWords,
  effectTrouble,
  hardwareStillNamed,
  kindsOfPart,
  libraryOffers,
  newPart,
  partRecords,
  partUse,
  renameOfPart,
  stillUsed,
  type PartRecords,
} from '../../../core/parts/index.ts'
import { effectiveFittings } from '../../../core/job/index.ts'
import { brokenReferences, counter } from '../support/small-job.ts'
import { carryOut, demoJob, everything, libraryJob, takesBack } from './demo.ts'

const recordsOf = (data: JobData, id: string): PartRecords => {
  const found = partRecords(data, id)
  if (found === null) throw new Error(`no part ${id}`)
  return found
}
const newest = (data: JobData, name: string): JobRecord<'part'> => {
  const part = [...data.all('part')].find((each) => each.name === name)
  if (part === undefined) throw new Error(`no part ${name}`)
  return part
}

describe('copying a part', () => {
  test('every part of the library: the copy says the same, shares nothing, and is taken back without a trace', () => {
    const data = demoJob()
    const ids = Array.from(data.all('part'), ({ id }) => id)
    for (const id of ids) {
      const before = structuredClone(everything(data))
      const of = recordsOf(data, id)
      const edits = carryOut(data, copyPart(of, 'The copy'))
      const copy = newest(data, 'The copy')
      expect(brokenReferences(data)).toEqual([])
      expect(kindsOfPart.map((kind) => [kind, recordsOf(data, copy.id)[kind].length])).toEqual(
        kindsOfPart.map((kind) => [kind, of[kind].length]),
      )
      const differing = compareParts(data, [id, copy.id]).flatMap(({ rows }) =>
        rows.filter((row) => row.differs),
      )
      expect(differing).toEqual([])
      expect(takesBack(data, before, edits)).toBe(true)
    }
  })

  test('what is changed on the copy does not reach the first', () => {
    const data = demoJob()
    carryOut(data, copyPart(recordsOf(data, 'part-strike-fail-safe'), 'The copy'))
    const copy = recordsOf(data, newest(data, 'The copy').id)
    const [element] = copy.partElement
    carryOut(data, {
      does: 'change records',
      name: 'Turn it round',
      add: [],
      set: [{ kind: 'partElement', id: element?.id ?? '', fields: { engaged: 'while not fed' } }],
      remove: [],
    })
    expect(doesWords(recordsOf(data, newest(data, 'The copy').id))).toMatch(/^Keeps the latch while not fed/)
    expect(doesWords(recordsOf(data, 'part-strike-fail-safe'))).toMatch(/^Keeps the latch while fed/)
  })

  test('a name that is taken is refused in one sentence', () => {
    const data = demoJob()
    const [first] = recordsOf(data, 'part-strike-fail-safe').part
    expect(() => carryOut(data, newPart('strike', first?.name ?? ''))).toThrow(
      `The job already has a part called ${first?.name}.`,
    )
  })
})

// What each declares stands in fixtures/parts-library/behaviour.ts; the words are ours.
test.each([
  ['part-surface-magnet-600', 'Holds in and out while fed.'],
  ['part-strike-fail-secure', 'Keeps the latch while not fed.'],
  ['part-delayed-magnet', 'Holds in and out while fed, lets go some seconds after push side.'],
  [
    'part-lever-lock-fail-safe',
    'Latches, drawn by outer lever and inner lever; blocks the outer lever as its setting says; asks to leave.',
  ],
  ['part-exit-sensor', 'Asks to leave; contacts Feed, Signal and Cover.'],
  ['part-reader', /^Reads a credential/],
  ['part-door-closer', 'Shuts the leaf.'],
])('%s in one sentence', (id, words) => {
  expect(doesWords(recordsOf(demoJob(), id))).toMatch(words)
})

test('a part that nobody declared says so', () => {
  const data = demoJob()
  carryOut(data, newPart('strike', 'A strike'))
  expect(doesWords(recordsOf(data, newest(data, 'A strike').id))).toBe('Not declared: it may hold anything.')
})

describe('where parts are used', () => {
  test('the same openings as reading every opening of the job', () => {
    const data = demoJob()
    const byPart = new Map<string, Set<string>>()
    for (const opening of data.all('opening'))
      for (const { part, leftOut } of effectiveFittings(data, opening))
        if (part !== null && !leftOut)
          byPart.set(part.id, (byPart.get(part.id) ?? new Set<string>()).add(opening.id))
    expect([...byPart.values()].some((each) => each.size > 1)).toBe(true)
    for (const { id } of data.all('part')) {
      const use = partUse(data, id)
      expect([id, use.openings.map((each) => each.id).toSorted()]).toEqual([
        id,
        [...(byPart.get(id) ?? [])].toSorted(),
      ])
    }
  })

  test('a part in use says where; one that nothing needs says nothing', () => {
    const data = demoJob()
    const strike = partUse(data, 'part-strike-fail-safe')
    expect(stillUsed('Strike', strike)).toMatch(
      /^Strike is used by typical Strike, safe; opening \S+, .+\. Take it out there first\.$/,
    )
    carryOut(data, newPart('strike', 'A strike'))
    expect(stillUsed('A strike', partUse(data, newest(data, 'A strike').id))).toBeNull()
  })
})

describe('renaming what others call by name', () => {
  test('a lever: what it draws, what blocks it and what works with it follow', () => {
    const data = demoJob()
    const of = recordsOf(data, 'part-lever-lock-fail-safe')
    const outer = of.partHardware.find(({ name }) => name === 'outer lever')
    const before = structuredClone(everything(data))
    const renamed = renameOfPart(data, 'partHardware', outer?.id ?? '', 'lever outside')
    if (!renamed.ok) throw new Error(renamed.sentence)
    const edits = carryOut(data, renamed.command)
    const after = recordsOf(data, 'part-lever-lock-fail-safe')
    expect(after.partElement.flatMap(({ drawnBy, blocks }) => [...drawnBy, ...blocks])).toContain(
      'lever outside',
    )
    expect(JSON.stringify(after.partElement)).not.toContain('outer lever')
    expect(hardwareStillNamed(data, outer?.id ?? '')).toMatch(
      /^The lever outside is still named by the latch/,
    )
    expect(takesBack(data, before, edits)).toBe(true)
  })

  test('a position: every value that was set follows; a setting: the bank that reads it follows', () => {
    const data = demoJob()
    const of = recordsOf(data, 'part-surface-magnet-600')
    const first = of.partSetting.find(({ name }) => name === 'Switch 1')
    const on = of.partPosition.find(({ partSettingId, name }) => partSettingId === first?.id && name === 'on')
    const set = data
      .referring('settingValue', 'partSettingId', first?.id ?? '')
      .filter(({ value }) => value === 'on').length
    expect(set).toBeGreaterThan(0)
    const position = renameOfPart(data, 'partPosition', on?.id ?? '', 'up')
    if (!position.ok) throw new Error(position.sentence)
    carryOut(data, position.command)
    const values = data.referring('settingValue', 'partSettingId', first?.id ?? '').map(({ value }) => value)
    expect(values.filter((value) => value === 'up')).toHaveLength(set)
    expect(values).not.toContain('on')
    const setting = renameOfPart(data, 'partSetting', first?.id ?? '', 'Left switch')
    if (!setting.ok) throw new Error(setting.sentence)
    carryOut(data, setting.command)
    expect(recordsOf(data, 'part-surface-magnet-600').partSettingTableRow.map(({ when }) => when)).toEqual([
      { 'Left switch': 'off', 'Switch 2': 'off' },
      { 'Left switch': 'up', 'Switch 2': 'off' },
      { 'Left switch': 'off', 'Switch 2': 'on' },
      { 'Left switch': 'up', 'Switch 2': 'on' },
    ])
  })

  test.each([
    ['', 'No name was given; expected a name for the position.'],
    ['24 V', 'There is already a position called 24 V.'],
  ])('"%s" is refused: %s', (name, sentence) => {
    const data = demoJob()
    const position = recordsOf(data, 'part-surface-magnet-600').partPosition.find(
      (each) => each.name === '12 V',
    )
    expect(renameOfPart(data, 'partPosition', position?.id ?? '', name)).toEqual({ ok: false, sentence })
  })
})

test('comparing a fail-safe with a fail-secure strike shows what holds when, and not what is alike', () => {
  const data = demoJob()
  const rows = compareParts(data, ['part-strike-fail-safe', 'part-strike-fail-secure']).flatMap(
    (each) => each.rows,
  )
  expect(rows.find(({ name }) => name === 'Holds: strike')).toEqual({
    name: 'Holds: strike',
    values: ['keeps the latch while fed', 'keeps the latch while not fed'],
    differs: true,
  })
  expect(rows.find(({ name }) => name === 'Works at')?.differs).toBe(false)
})

test.each([
  ['engaged', 'while fed', null],
  ['engaged', 'always', '“always” is not understood; expected while fed and while not fed.'],
  ['delay seconds', '15', null],
  ['delay seconds', 'soon', '“soon” is not a number of seconds; expected one such as 15.'],
] as const)('an effect on %s of %s: %s', (changes, value, trouble) => {
  expect(effectTrouble(changes, value)).toBe(trouble)
})

describe('bringing in from the starter library', () => {
  const emptyJob = (): JobData => {
    const full = demoJob()
    const data = new JobData()
    data.put('job', full.job)
    return data
  }

  test('all typicals into an empty job bring every part they need, once, and nothing is lost', () => {
    const library = libraryJob()
    const data = emptyJob()
    const before = structuredClone(everything(data))
    const typicalIds = [...library.all('typical')].map(({ id }) => id)
    const brought = bringIn(library, data, { partIds: [], typicalIds }, counter())
    data.apply(brought.change.edits)
    expect(brought.leftOut).toEqual([])
    expect(brokenReferences(data)).toEqual([])
    for (const kind of ['typical', 'typicalFitting', 'typicalFittingLeaf', 'settingValue', 'link'] as const)
      expect([kind, data.count(kind)]).toEqual([kind, library.count(kind)])
    const needed = new Set([...library.all('typicalFitting')].map(({ partId }) => partId))
    expect(data.count('part')).toBe(needed.size)
    expect([...data.all('link')].filter(({ partContactId }) => partContactId === null)).toHaveLength(
      [...library.all('link')].filter(({ partContactId }) => partContactId === null).length,
    )
    expect(libraryOffers(library, data).typicals.every(({ here }) => here)).toBe(true)
    expect(takesBack(data, before, brought.change.edits)).toBe(true)
  })

  test('into a job that has the parts: nothing is doubled, and a typical of the same name is left out with a sentence', () => {
    const data = demoJob()
    const parts = data.count('part')
    carryOut(data, {
      does: 'set typical',
      typicalId: 'typical-strike-safe',
      fields: { name: 'Our safe strike' },
    })
    const brought = bringIn(
      libraryJob(),
      data,
      { partIds: ['part-reader'], typicalIds: ['typical-strike-safe', 'typical-records'] },
      counter(),
    )
    expect(brought.leftOut).toEqual(['The job already has a typical called Records.'])
    expect(brought.change.name).toBe('Bring in typical Strike, safe')
    data.apply(brought.change.edits)
    expect(data.count('part')).toBe(parts)
    expect(brokenReferences(data)).toEqual([])
  })
})

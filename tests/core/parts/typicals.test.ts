// What a typical does by itself, changing as a link or a setting changes, and typicals copied and compared.
import { describe, expect, test } from 'vitest'
import { gateLines, gateWords, type GateLine } from '../../../core/documents/index.ts'
import type { JobData } from '../../../core/job/index.ts'
import {
  compareTypicals,
  copyPart,
  lineChanges,
  lineKey,
  linesOfTypical,
  linksOfTypical,
  partRecords,
  reviewOfTypical,
  typicalJob,
} from '../../../core/parts/index.ts'
import type { Command } from '../../../core/schedule/index.ts'
import { brokenReferences } from '../support/small-job.ts'
import { carryOut, demoJob, everything, takesBack } from './demo.ts'

const wordsAt = (lines: readonly GateLine[], condition: GateLine['condition']): string =>
  lines
    .filter((line) => line.condition === condition)
    .map((line) => gateWords(line.gate).replace(/: .*/, ''))
    .join(' | ')

// Source: the check table of core.md section 1, common practice. "hw" is free by hardware.
const hw = 'free by hardware'
test.each([
  [
    'typical-magnet-sensor',
    `in held, out held`,
    'in free, out free',
    'in held, out held',
    'in free, out free',
  ],
  [
    'typical-strike-secure',
    `in held, out ${hw}`,
    `in held, out ${hw}`,
    `in held, out ${hw}`,
    `in held, out ${hw}`,
  ],
  [
    'typical-strike-safe',
    `in held, out ${hw}`,
    `in free, out ${hw}`,
    `in held, out ${hw}`,
    `in free, out ${hw}`,
  ],
  [
    'typical-stair-re-entry',
    `in held, out ${hw}`,
    `in ${hw}, out ${hw}`,
    `in held, out ${hw}`,
    `in ${hw}, out ${hw}`,
  ],
  [
    'typical-exit-retraction',
    `in held, out ${hw}`,
    `in held, out ${hw}`,
    `in held, out ${hw}`,
    `in held, out ${hw}`,
  ],
  [
    'typical-delayed-exit',
    'in held, out waits 15 seconds',
    `in held, out ${hw}`,
    'in held, out waits 15 seconds',
    `in held, out ${hw}`,
  ],
  [
    'typical-delayed-magnet',
    'in held, out waits 15 seconds',
    'in free, out free',
    'in held, out waits 15 seconds',
    'in free, out free',
  ],
])('%s: secured, alarm, mains lost on a battery, no power', (id, secured, alarm, mains, none) => {
  const lines = linesOfTypical(demoJob(), id, 'with a battery')
  expect([
    wordsAt(lines, 'secured'),
    wordsAt(lines, 'fire alarm'),
    wordsAt(lines, 'mains lost'),
    wordsAt(lines, 'no power'),
  ]).toEqual([secured, alarm, mains, none])
})

test('a typical hangs on no supply: without the mains a magnet is not known, and is free where no battery is taken for granted', () => {
  const data = demoJob()
  const mains = (fedBy: Parameters<typeof linesOfTypical>[2]): string =>
    wordsAt(linesOfTypical(data, 'typical-magnet-sensor', fedBy), 'mains lost')
  expect(mains('not known')).toBe('in not known, out not known')
  expect(mains('without a battery')).toBe('in free, out free')
})

test('every typical of the demo job is judged as an opening of its own, single or pair, and the job stays as it is', () => {
  const data = demoJob()
  const before = structuredClone(everything(data))
  for (const { id, name } of data.all('typical')) {
    const job = typicalJob(data, id)
    if (job === null) throw new Error(name)
    const review = reviewOfTypical(job)
    expect([name, review.problems]).toEqual([name, []])
    expect(brokenReferences(job.data).filter((words) => !words.includes('level of none'))).toEqual([])
  }
  expect(JSON.stringify(everything(data))).toBe(JSON.stringify(before))
})

/** The link from one tag to another. */
const linkOf = (data: JobData, typicalId: string, words: RegExp): string => {
  const found = linksOfTypical(data, typicalId).find(({ sentence }) => words.test(sentence))
  if (found === undefined) throw new Error(`no link ${words.source}`)
  return found.id
}
const withoutLink = (id: string): Command => ({
  does: 'change records',
  name: 'Take the link out',
  add: [],
  set: [],
  remove: [{ kind: 'link', id }],
})

describe('what changes', () => {
  test('without the alarm relay in its feed a magnet is held on alarm, with the reason; undone it lets go', () => {
    const data = demoJob()
    const id = 'typical-magnet-sensor'
    const before = linesOfTypical(data, id, 'with a battery')
    const whole = structuredClone(everything(data))
    const edits = carryOut(data, withoutLink(linkOf(data, id, /^Alarm relay F1 breaks the feed of M1/)))
    const after = linesOfTypical(data, id, 'with a battery')
    expect(wordsAt(after, 'fire alarm')).toBe('in held, out held')
    const alarm = after.find(({ condition }) => condition === 'fire alarm')
    expect(alarm?.because.join(' ')).toMatch(/fire alarm/i)
    expect(alarm?.gate.trapped).not.toBe('no')
    const changes = lineChanges(before, after)
    expect(changes.get(lineKey({ condition: 'fire alarm', of: null }))).toEqual({
      sentences: ['In was free, now held.', 'Out was free, now held.'],
    })
    expect(changes.has(lineKey({ condition: 'secured', of: null }))).toBe(false)
    expect(takesBack(data, whole, edits)).toBe(true)
    expect(linesOfTypical(data, id, 'with a battery')).toEqual(before)
  })

  test('the same tried without writing', () => {
    const data = demoJob()
    const id = 'typical-magnet-sensor'
    const trying = [withoutLink(linkOf(data, id, /^Alarm relay F1 breaks the feed of M1/))]
    const job = typicalJob(data, id, { trying, fedBy: 'with a battery' })
    if (job === null) throw new Error('gone')
    const { behaviour, arrangement } = reviewOfTypical(job, 'with a battery')
    if (behaviour === null) throw new Error('not judged')
    expect(wordsAt(gateLines(behaviour, arrangement), 'fire alarm')).toBe('in held, out held')
    expect(wordsAt(linesOfTypical(data, id, 'with a battery'), 'fire alarm')).toBe('in free, out free')
  })

  test('a lever lock set fail secure instead of fail safe no longer lets in without power', () => {
    const data = demoJob()
    const id = 'typical-lever-safe'
    const slot = data.referring('typicalFitting', 'typicalId', id).find(({ tag }) => tag === 'L1')
    const mode = data
      .referring('partSetting', 'partId', slot?.partId ?? '')
      .find(({ name }) => name === 'Mode')
    const before = linesOfTypical(data, id, 'not known')
    carryOut(data, {
      does: 'set settings',
      stage: 'designed',
      sets: [
        {
          values: [{ settingId: mode?.id ?? '', value: 'fail secure' }],
          targets: [{ typicalFittingId: slot?.id ?? '' }],
        },
      ],
      visitId: null,
    })
    const changes = lineChanges(before, linesOfTypical(data, id, 'not known'))
    expect(changes.get(lineKey({ condition: 'no power', of: null }))?.sentences).toEqual([
      'In was free by hardware, now held.',
    ])
  })
})

describe('copying a typical', () => {
  test('every typical: leaves, places, settings and links come along, and it does the same', () => {
    const data = demoJob()
    carryOut(data, {
      does: 'change records',
      name: 'Place the magnet',
      add: [
        {
          kind: 'placement',
          record: {
            id: 'new:1',
            partId: null,
            typicalFittingId: data
              .referring('typicalFitting', 'typicalId', 'typical-magnet-sensor')
              .find(({ tag }) => tag === 'M1')?.id as string,
            fittingId: null,
            place: 'frame head',
            side: 'egress',
            heightMicrometres: null,
            acrossMicrometres: null,
          },
        },
      ],
      set: [],
      remove: [],
    })
    const typicals = Array.from(data.all('typical'))
    for (const { id, name } of typicals) {
      const before = structuredClone(everything(data))
      const edits = carryOut(data, { does: 'add typical', name: 'The copy', likeTypicalId: id })
      const copy = [...data.all('typical')].find((each) => each.name === 'The copy')
      expect(brokenReferences(data)).toEqual([])
      const compared = compareTypicals(data, [id, copy?.id ?? ''], 'with a battery')
      expect([name, compared.behaviour.filter((each) => each.differs)]).toEqual([name, []])
      expect([name, compared.sections.flatMap(({ rows }) => rows.filter((row) => row.differs))]).toEqual([
        name,
        [],
      ])
      if (id === 'typical-magnet-sensor')
        expect(edits.some((edit) => edit.does === 'add' && edit.kind === 'placement')).toBe(true)
      expect(takesBack(data, before, edits)).toBe(true)
    }
  })

  test('removing a fitting or a typical with leaves and places leaves nothing behind', () => {
    const data = demoJob()
    const slot = data
      .referring('typicalFitting', 'typicalId', 'typical-shear-pair')
      .find(({ id }) => data.countReferring('typicalFittingLeaf', 'typicalFittingId', id) > 0)
    const before = structuredClone(everything(data))
    const edits = carryOut(data, { does: 'remove typical fitting', typicalFittingId: slot?.id ?? '' })
    expect(brokenReferences(data)).toEqual([])
    expect(data.referring('typicalFittingLeaf', 'typicalFittingId', slot?.id ?? '')).toEqual([])
    expect(takesBack(data, before, edits)).toBe(true)
    carryOut(data, { does: 'add typical', name: 'The copy', likeTypicalId: 'typical-shear-pair' })
    const copy = [...data.all('typical')].find((each) => each.name === 'The copy')
    carryOut(data, { does: 'remove typical', typicalId: copy?.id ?? '' })
    expect(brokenReferences(data)).toEqual([])
  })

  test('an opening that is duplicated keeps the overlap of its leaves and where its fittings go', () => {
    const data = demoJob()
    const [overlap] = [...data.all('leafOverlap')]
    const leaf = data.get('leaf', overlap?.leafId ?? '')
    const overlaps = data.count('leafOverlap')
    const fitting = data.referring('fitting', 'openingId', leaf?.openingId ?? '')[0]
    carryOut(data, {
      does: 'change records',
      name: 'Place it',
      add: [
        {
          kind: 'placement',
          record: {
            id: 'new:1',
            partId: null,
            typicalFittingId: null,
            fittingId: fitting?.id ?? '',
            place: 'leaf',
            side: null,
            heightMicrometres: 1_016_000,
            acrossMicrometres: null,
          },
        },
      ],
      set: [],
      remove: [],
    })
    const placed = data.count('placement')
    const ofOpening = data
      .referring('fitting', 'openingId', leaf?.openingId ?? '')
      .reduce((sum, { id }) => sum + data.countReferring('placement', 'fittingId', id), 0)
    expect(ofOpening).toBeGreaterThan(0)
    carryOut(data, { does: 'duplicate openings', openingIds: [leaf?.openingId ?? ''] })
    expect(data.count('leafOverlap')).toBe(overlaps + 1)
    expect(data.count('placement')).toBe(placed + ofOpening)
    expect(brokenReferences(data)).toEqual([])
  })
})

test('two strikes side by side: what they do differs only without power and on alarm', () => {
  const { behaviour, sections } = compareTypicals(
    demoJob(),
    ['typical-strike-safe', 'typical-strike-secure'],
    'with a battery',
  )
  expect(
    behaviour
      .filter((each) => each.differs && each.lines.every((line) => line !== null))
      .map((each) => each.condition),
  ).toEqual(['Fire alarm', 'No power'])
  const fittings = sections.find(({ title }) => title === 'Fittings')?.rows ?? []
  expect(fittings.filter(({ differs }) => differs).map(({ name }) => name)).toEqual(['K1', 'F1'])
})

describe('another part in the place of one', () => {
  test('a copy of the part: links, points and designed settings go to what it calls the same, and it does the same', () => {
    const data = demoJob()
    const id = 'typical-magnet-sensor'
    const before = linesOfTypical(data, id, 'with a battery')
    const of = partRecords(data, 'part-exit-sensor')
    if (of === null) throw new Error('no sensor')
    carryOut(data, copyPart(of, 'Our sensor'))
    const copy = [...data.all('part')].find(({ name }) => name === 'Our sensor')
    const slot = data.referring('typicalFitting', 'typicalId', id).find(({ tag }) => tag === 'S1')
    const settings = data.referring('settingValue', 'typicalFittingId', slot?.id ?? '').length
    expect(settings).toBeGreaterThan(0)
    const whole = structuredClone(everything(data))
    const edits = carryOut(data, {
      does: 'set typical fitting',
      typicalFittingId: slot?.id ?? '',
      fields: { partId: copy?.id ?? '' },
    })
    expect(linesOfTypical(data, id, 'with a battery')).toEqual(before)
    expect(data.referring('settingValue', 'typicalFittingId', slot?.id ?? '')).toHaveLength(settings)
    for (const { partContactId } of data.referring('link', 'fromTypicalFittingId', slot?.id ?? ''))
      expect(data.get('partContact', partContactId ?? '')?.partId).toBe(copy?.id)
    expect(takesBack(data, whole, edits)).toBe(true)
  })

  test('a part without that contact: the link says no contact, and which one is asked', () => {
    const data = demoJob()
    const id = 'typical-magnet-sensor'
    const slot = data.referring('typicalFitting', 'typicalId', id).find(({ tag }) => tag === 'S1')
    carryOut(data, {
      does: 'set typical fitting',
      typicalFittingId: slot?.id ?? '',
      fields: { partId: 'part-door-contact' },
    })
    const questions = linksOfTypical(data, id).flatMap(({ question }) => question ?? [])
    expect(questions).toEqual(['By which contact of S1?'])
  })
})

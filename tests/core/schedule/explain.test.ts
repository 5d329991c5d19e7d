import { describe, expect, test } from 'vitest'
import {
  columnKeys,
  explainCell,
  scheduleColumn,
  scheduleFrame,
  scheduleQuestions,
  scheduleRow,
  hasQuestion,
  scheduleRows,
  type ColumnKey,
} from '../../../core/schedule/index.ts'
import { openingOf, smallJob } from '../support/small-job.ts'

const data = smallJob()
const context = { units: 'imperial' as const, frame: scheduleFrame(data) }
const row = (id: string) => scheduleRow(data, openingOf(data, id))
const full = {
  ...row('c'),
  toRoom: '102 Café',
  fromRoom: '101 Lobby',
  where: 'Café, from 101',
  thicknessMicrometres: 44_450,
  doorType: 'F',
  hardwareSet: '07',
  furnishedBy: 'Owner',
  wiredBy: 'Electrician',
  terminatedBy: 'Integrator',
  ownTrades: ['furnishedBy', 'wiredBy'] as const,
  serial: 'S1',
  assetTag: 'T1',
  installedOn: '2026-02-01',
  notes: 'As the owner wrote',
  sourceFile: 'doors.xlsx',
  sourcePlace: 'row 4',
}
const empty = row('e')

describe.each([
  ['full', full],
  ['empty', empty],
])('every cell of a %s row', (_what, each) => {
  test.each(columnKeys)('%s', (key) => {
    const { title, paragraphs, citations, questions } = explainCell(each, key, context)
    expect(title).toContain(each.mark)
    expect(title).toContain(scheduleColumn(key).heading.toLowerCase())
    expect(paragraphs.length).toBeGreaterThan(0)
    // What people wrote themselves stands as they wrote it.
    const theirs = new Set([each.notes, 'Lock and reader'])
    for (const sentence of [...paragraphs, ...citations])
      if (!theirs.has(sentence)) expect(sentence).toMatch(/^[A-Z].*[.?]$/)
    expect(questions).toEqual(scheduleQuestions(each))
  })
})

describe('what is said', () => {
  test.each<[string, ColumnKey, string[]]>([
    [
      'a',
      'mark',
      ['On Ground of Main.', 'It leads from 102 Café to 101 Lobby.', 'It follows the typical Store room.'],
    ],
    ['j', 'mark', ['On Yard of Annexe.', 'It follows no typical yet.', 'Taken in from doors.xlsx, row 12.']],
    ['a', 'where', ['Put together from the rooms it joins.', 'It leads from 102 Café to 101 Lobby.']],
    ['b', 'where', ['Put together from the rooms it joins.', 'It leads to 102 Café.']],
    ['g', 'where', ['Put together from the rooms it joins.', 'It leads out of 201.']],
    ['d', 'where', ['Written here by hand.']],
    ['e', 'where', ['Nobody has said where it leads.']],
    ['a', 'size', ['A doorway 36" (914 mm) wide and 84" (2134 mm) high.']],
    ['c', 'size', ['A pair of leaves in a doorway 72" (1829 mm) wide and 96" (2438 mm) high.']],
    ['e', 'size', ['Size not known.']],
    ['a', 'hand', ['Standing at the keyed side and facing the door: hinges left, pushes away.']],
    [
      'c',
      'hand',
      [
        'Standing at the keyed side and facing the door: hinges left, pushes away.',
        'Of a pair, this is the active leaf.',
      ],
    ],
    ['a', 'label', ['Known to bear no fire label.']],
    ['c', 'label', ['A 90 minute label, class B.']],
    ['j', 'label', ['Class B is given, but not for how many minutes.']],
    [
      'e',
      'label',
      ['Nobody has said whether this door bears a fire label. Unknown is not the same as none.'],
    ],
    [
      'a',
      'typical',
      [
        'Lock and reader',
        'L1 Electrified lock; R1 Card reader.',
        'Follows its typical in everything; a change to the typical reaches it.',
      ],
    ],
    [
      'c',
      'typical',
      [
        'Lock and reader',
        'L1 Electrified lock; R1 Card reader.',
        'Differs on purpose in 3 fittings; its page says how.',
      ],
    ],
    ['d', 'typical', ['L1 Electrified lock.', 'Differs on purpose in who does what; its page says how.']],
    ['e', 'typical', ['No typical yet, so nothing says what this door is fitted with.']],
    ['a', 'fitted', ['Fitted by Integrator, as the typical Store room says.']],
    [
      'd',
      'fitted',
      ['Fitted by Owner, said for this opening.', 'Clear the cell to follow the typical again.'],
    ],
    ['h', 'furnished', ['Furnished by Owner.']],
    ['a', 'wired', ['Wired by: nobody has said.']],
    ['a', 'source', ['Made here, not taken in from a file.']],
    ['j', 'source', ['Taken in from doors.xlsx, row 12.']],
  ])('%s, %s', (id, key, paragraphs) => {
    expect(explainCell(row(id), key, context).paragraphs).toEqual(paragraphs)
  })
  test('half a size', () => {
    const some = { ...row('a'), heightMicrometres: null }
    expect(explainCell(some, 'size', context).paragraphs).toEqual([
      'A doorway 36" (914 mm) wide; how high is not known.',
    ])
    expect(explainCell({ ...row('a'), widthMicrometres: null }, 'size', context).paragraphs).toEqual([
      'A doorway 84" (2134 mm) high; how wide is not known.',
    ])
  })
  test('a trade said here beside the typical’s', () => {
    const own = { ...row('a'), fittedBy: 'Owner', ownTrades: ['fittedBy'] as const }
    expect(explainCell(own, 'fitted', context).paragraphs[0]).toBe(
      'Fitted by Owner, said for this opening. The typical Store room says Integrator.',
    )
  })
  test('a size that can hardly be meant is doubted', () => {
    const narrow = { ...row('a'), widthMicrometres: 94_000 }
    expect(explainCell(narrow, 'size', context).paragraphs).toHaveLength(2)
  })
})

describe('open questions', () => {
  test.each([
    ['a', []],
    ['e', ['size', 'hand', 'label', 'typical']],
    ['h', ['typical']],
    ['j', ['size', 'hand', 'label', 'typical']],
  ] as const)('%s', (id, columns) => {
    expect(scheduleQuestions(row(id)).map((each) => each.column)).toEqual(columns)
  })
  test('the cheap count agrees with the questions', () => {
    for (const each of scheduleRows(data)) expect(hasQuestion(each)).toBe(scheduleQuestions(each).length > 0)
  })
  test('class B is asked which of its two times it is', () => {
    expect(scheduleQuestions(row('j')).map((each) => each.words)).toContain(
      'Class B is either 60 or 90 minutes: which does the label say?',
    )
  })
})

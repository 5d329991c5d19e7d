import { describe, expect, test } from 'vitest'
import {
  scheduleDocument,
  type Block,
  type DocumentBlocks,
  type ScheduleDocumentInput,
} from '../../../core/documents/index.ts'

const column = (key: string, heading: string) =>
  ({ key, heading, unit: null, align: 'left', widthWeight: 1 }) as const

const input: ScheduleDocumentInput = {
  job: {
    name: 'Harrow Street Clinic',
    number: '2231',
    client: 'Harrow Street Health Trust',
    address: null,
    preparedBy: 'Front office',
  },
  columns: [
    column('mark', 'Mark'),
    column('hand', 'Hand'),
    column('material', 'Door material'),
    column('label', 'Label'),
  ],
  groups: [
    {
      groupTitle: 'Level 1',
      rows: [
        { texts: { mark: '101', hand: 'LHR', material: 'HM', label: '90' } },
        { texts: { mark: '102', material: 'WD/GL', label: 'none' }, notKnown: ['hand'] },
      ],
    },
    { groupTitle: 'Level 2', rows: [{ texts: { mark: '201', hand: 'RH' }, own: ['hand'] }] },
  ],
  issueName: 'Issue 2',
  issuedOn: '3 March 2026',
}

const block = <F extends Block['form']>(document: DocumentBlocks, form: F): Extract<Block, { form: F }> => {
  const found = document.blocks.find((each) => each.form === form)
  if (found === undefined) throw new Error(`no ${form} block`)
  return found as Extract<Block, { form: F }>
}

describe('the opening schedule as blocks', () => {
  const document = scheduleDocument(input)

  test('stands in the order a reader takes it', () => {
    expect(document.blocks.map((each) => each.form)).toEqual(['title', 'counts', 'table', 'legend', 'words'])
  })

  test('the head has only the facts that are known', () => {
    const title = block(document, 'title')
    expect(title.lines).toEqual(['Harrow Street Clinic'])
    expect(title.facts.map((fact) => `${fact.name}: ${fact.text}`)).toEqual([
      'Client: Harrow Street Health Trust',
      'Job number: 2231',
      'Issue: Issue 2',
      'Date: 3 March 2026',
      'Prepared by: Front office',
    ])
  })

  test('rows keep their order and their cells the order of the columns; absent texts are empty', () => {
    const table = block(document, 'table')
    expect(table.groups.map((group) => [group.title, group.countText])).toEqual([
      ['Level 1', '2 openings'],
      ['Level 2', '1 opening'],
    ])
    expect(table.groups[0]?.rows[1]?.cells).toEqual(['102', '', 'WD/GL', 'none'])
  })

  test('marks: not known wins over own', () => {
    const both = scheduleDocument({
      ...input,
      groups: [{ groupTitle: 'L', rows: [{ texts: {}, own: ['hand', 'label'], notKnown: ['hand'] }] }],
    })
    expect(block(both, 'table').groups[0]?.rows[0]?.marks).toEqual({ hand: 'not known', label: 'own' })
  })

  test('counts openings, those with questions and those that differ', () => {
    expect(block(document, 'counts').counts).toEqual([
      { count: 3, words: 'openings' },
      { count: 1, words: 'needs an answer' },
      { count: 1, words: 'differs from its typical' },
    ])
  })

  test('the legend explains what is used and nothing else', () => {
    const signs = block(document, 'legend').sections.map((section) => [
      section.heading,
      ...section.entries.map((entry) =>
        'text' in entry.sign ? entry.sign.text : 'mark' in entry.sign ? entry.sign.mark : 'passage',
      ),
    ])
    expect(signs).toEqual([
      ['Hand, seen from the keyed side', 'RH', 'LHR'],
      ['Material', 'HM', 'WD', 'GL'],
      ['Fire label', '45 min', 'none'],
      ['Marks', 'not known', 'own'],
    ])
  })

  test('an empty job has no legend, says what to do, and still says who decides', () => {
    const empty = scheduleDocument({ ...input, groups: [] })
    expect(empty.blocks.map((each) => each.form)).toEqual(['title', 'counts', 'table', 'words'])
    expect(block(empty, 'table').emptyText).toMatch(/^No openings yet\./)
    expect(block(empty, 'words').cautions.join(' ')).toMatch(
      /authority having jurisdiction.*licensed practice/,
    )
  })

  test.each([
    ['the mark never goes', 1, column('mark', 'Mark'), 0],
    ['the place when nothing is said', 2, column('hand', 'Hand'), 3],
    ['what the caller says', 2, { ...column('hand', 'Hand'), priority: 9 }, 9],
  ])('priority: %s', (_, place, each, priority) => {
    const before = Array.from({ length: place }, () => column('other', ''))
    const table = block(scheduleDocument({ ...input, columns: [...before, each] }), 'table')
    expect(table.columns[place]?.priority).toBe(priority)
  })

  test('a mark in a column that is not printed is counted but not explained', () => {
    const hidden = scheduleDocument({ ...input, columns: [column('mark', 'Mark')] })
    expect(block(hidden, 'counts').counts).toHaveLength(3)
    expect(hidden.blocks.some((each) => each.form === 'legend')).toBe(false)
  })
})

// The behaviour and cautions sheet, and the questions sheet: what they say, and that the words of caution stay.
import { describe, expect, test } from 'vitest'
import { judge, judgeAll, sequenceOfOperation, alarmInOpenHours } from '../../../core/behaviour/index.ts'
import {
  cautionsInFull,
  cautionsOverview,
  evidenceLimit,
  factsFrom,
  judgeOpening,
  viewOf,
  wordsOfCaution,
  type ReadFacts,
} from '../../../core/cautions/index.ts'
import {
  cautionsPageNote,
  cautionsSheet,
  cautionsSheets,
  codeWords,
  marksWords,
  questionsSheet,
  sparedBy,
  type Block,
  type CautionsSheetInput,
  type DocumentBlocks,
} from '../../../core/documents/index.ts'
import { demoJob } from '../../../fixtures/demo/index.ts'
import { doorways, fittingsOf, goodFacts, opening, type DoorwayName } from '../cautions/openings.ts'

const job = demoJob()

function input(name: DoorwayName, patch: ReadFacts = {}): CautionsSheetInput {
  const doorway = doorways[name]
  const facts = factsFrom({ ...goodFacts, ...patch })
  const behaviour = [...judgeAll(doorway), judge(doorway, alarmInOpenHours)]
  const view = viewOf({ facts, behaviour, fittings: fittingsOf(doorway) })
  const { lines, questions } = cautionsInFull(judgeOpening(view), facts)
  return {
    mark: '118',
    lines: ['Pharmacy store, Level 1', '3-0 x 7-0, LHR'],
    elevation: {
      units: 'imperial',
      seenFrom: 'egress',
      widthMicrometres: 914_400,
      heightMicrometres: 2_133_600,
      hand: 'LHR',
      leaves: { form: 'single' },
      fittings: [],
    },
    behaviour: [],
    sequence: sequenceOfOperation(doorway).map(({ sentences }) => sentences.join(' ')),
    arrangement: { name: view.arrangement.wayOut, reasons: view.arrangement.reasons },
    cannotTell: [],
    codeWords: codeWords({ ibc: '2021', nfpa101: '2021' }),
    cautions: lines,
    questions,
  }
}

const tableOf = ({ blocks }: DocumentBlocks): Extract<Block, { form: 'table' }> => {
  const found = blocks.find((block) => block.form === 'table')
  if (found?.form !== 'table') throw new Error('no table')
  return found
}
const rowsOf = (document: DocumentBlocks, group: string) =>
  tableOf(document).groups.find(({ title }) => title === group)?.rows ?? []
const allWords = ({ blocks }: DocumentBlocks): string => JSON.stringify(blocks)

describe('the sheet of an opening', () => {
  test('stands in the order of the work: head, cautions, elevation, behaviour, sequence, rules', () => {
    const { blocks } = cautionsSheet(job, input('magnet, sensor, release, no alarm contact'))
    expect(blocks.map(({ form }) => form)).toEqual([
      'title',
      'words',
      'elevation',
      'behaviour',
      'words',
      'table',
      'words',
    ])
  })

  test('has the words of caution in full at its top and in short on every page', () => {
    const document = cautionsSheet(job, input('passage lever alone'))
    expect(document.facts.pageNote).toBe(cautionsPageNote)
    // The foot of a letter page holds about this many characters; a longer note would be cut.
    expect(cautionsPageNote.length).toBeLessThan(105)
    expect(cautionsPageNote).toContain('the authority having jurisdiction')
    expect(allWords(document)).toContain(wordsOfCaution)
    expect(allWords(document)).toContain(evidenceLimit)
  })

  test('says of a caution what is wrong, where it stands, how far that was confirmed, and what is left', () => {
    const rows = rowsOf(cautionsSheet(job, input('magnet, sensor, release, no alarm contact')), 'Cautions')
    const row = rows.find(({ cells }) => cells[1] === 'When the fire alarm goes off, people get out at once.')
    expect(row?.marks).toEqual({ consequence: 'broken' })
    expect(row?.cells[0]).toBe('Can trap someone')
    expect(row?.cells[2]).toBe('On fire alarm the way out is still held or delayed.')
    expect(row?.cells[3]).toMatch(/^IBC 2021, 1010\.2\.12.*\(verified\)/)
    expect(row?.cells[3]).toContain('Content read in sources.')
    expect(row?.cells[4]).not.toBe('')
  })

  test('names the missing fact and who can answer, and never counts it as met', () => {
    const document = cautionsSheet(job, input('magnet, sensor, release, alarm', { 'listed-ul-294': null }))
    const open = rowsOf(document, 'Not known')
    expect(open.map(({ cells }) => cells[2])).toContain(
      'Is the electric locking of this door listed to UL 294? (door supplier)',
    )
    expect(open.every(({ marks }) => marks['consequence'] === 'question')).toBe(true)
    expect(rowsOf(document, 'Met').some(({ cells }) => cells[1]?.includes('UL 294'))).toBe(false)
  })

  test('a rule from memory says so', () => {
    const rows = tableOf(cautionsSheet(job, input('magnet, sensor, release, alarm'))).groups.flatMap(
      (group) => group.rows,
    )
    const height = rows.find(({ cells }) => cells[1]?.startsWith('Readers and buttons'))
    expect(height?.cells[3]).toContain('Content from memory.')
  })

  test('several begin each on a page; none is no document', () => {
    const one = input('passage lever alone')
    const document = cautionsSheets(job, [one, { ...one, mark: '119' }])
    const titles = document?.blocks.filter((block) => block.form === 'title') ?? []
    expect(titles).toMatchObject([{ startsPage: true }, { startsPage: true }])
    expect(cautionsSheets(job, [])).toBeNull()
  })

  test('an opening that cannot be worked out says why', () => {
    const behaviour = cautionsSheet(job, {
      ...input('passage lever alone'),
      arrangement: null,
      cannotTell: ['This opening has no fittings yet, so what it does is not known.'],
      sequence: [],
    }).blocks.find((block) => block.form === 'behaviour')
    expect(behaviour).toMatchObject({
      title: 'What it does',
      emptyText: 'This opening has no fittings yet, so what it does is not known.',
    })
  })
})

describe('the questions sheet', () => {
  const magnet = judgeOpening(
    opening('magnet, sensor, release, alarm', { 'listed-ul-294': null, sprinklered: null }),
  )
  const lever = judgeOpening(
    opening('passage lever alone', { 'electrical-room': null, 'equipment-amps': null }),
  )
  const overview = cautionsOverview(
    [
      ['o1', magnet],
      ['o2', lever],
    ],
    factsFrom(goodFacts),
  )
  const document = questionsSheet(job, {
    codeWords: 'IBC 2021; NFPA 101 2021',
    questions: overview.questions,
    marksOf: () => ['118', '119'],
  })

  test('is grouped by who can answer, each question once, with room for the answer', () => {
    const { groups } = tableOf(document)
    expect(groups.map(({ title }) => title)).toEqual(['For the architect', 'For the door supplier'])
    const questions = groups.flatMap(({ rows }) => rows.map(({ cells }) => cells[1]))
    expect(new Set(questions).size).toBe(questions.length)
    for (const { cells } of groups.flatMap(({ rows }) => rows)) expect(cells[3]).toMatch(/^_+$/)
  })

  test('tells what may follow, and who waits', () => {
    const rows = tableOf(document).groups.flatMap((group) => group.rows)
    const room = rows.find(({ cells }) => cells[1]?.startsWith('Does this door serve an electrical room'))
    expect(room?.cells[1]).toContain('Then, where it applies: What is the largest rating')
    expect(room?.cells[2]).toBe('1: 118, 119')
    expect(document.facts.pageNote).toBe(cautionsPageNote)
  })
})

test('marks are cut short with how many more', () => {
  expect(marksWords(['1', '2'], 2)).toBe('1, 2')
  expect(marksWords(['1', '2', '3', '4'], 2)).toBe('1, 2 and 2 more')
})

test('rules that do not apply are told by reason, the commonest first', () => {
  const { cautions } = input('passage lever alone')
  const spared = sparedBy(cautions)
  const rules = spared.reduce((sum, each) => sum + each.rules, 0)
  expect(rules).toBe(cautions.filter(({ verdict }) => verdict === 'does not apply').length)
  expect(spared.map((each) => each.rules)).toEqual(spared.map((each) => each.rules).toSorted((a, b) => b - a))
})

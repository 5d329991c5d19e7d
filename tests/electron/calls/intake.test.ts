// Taking in as a window does it: read, look, correct, accept, undo.
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import type { IntakeChoices, IntakePreview } from '../../../core/contract/index.ts'
import { noChoices } from '../../../core/exchange/index.ts'
import { asBase64, fixture, start, startEmpty, withoutHistory, type Running } from './support.ts'

const csv = (fileName: string, text: string) => ({ fileName, base64: asBase64(text) })
const nothingDecided = { items: {}, fields: {} }

const accept = (running: Running, preview: IntakePreview, choices: IntakeChoices = preview.choices) =>
  running.ask('intake.accept', { intakeId: preview.intakeId, choices, decisions: nothingDecided })

/** Headings of an invented office that nobody could guess: "Code" is the mark, "Swing way" the hand. */
const odd = (rows: string) => `Code,Swing way,Floor\n${rows}`
const correction: IntakeChoices = {
  ...noChoices,
  uses: [
    { sheet: 'odd', column: 0, use: 'mark' },
    { sheet: 'odd', column: 1, use: 'hand' },
  ],
}

describe('a take-in', () => {
  test('is read, corrected and accepted as one step; nothing is written before, and one undo takes it back', async () => {
    const running = await startEmpty()
    const before = await running.twin()
    const read = await running.ask('intake.file', csv('odd.csv', odd('A1,LH,1\nA2,RHR,1\nA3,wrong,2\n')))
    expect(read.understanding.openings).toEqual([])
    expect(read.understanding.warnings.join(' ')).toMatch(/column headed as the mark/)
    const chosen = await running.ask('intake.choose', { intakeId: read.intakeId, choices: correction })
    expect(chosen.comparison.counts).toEqual({ added: 3, changed: 0, same: 0, gone: 0 })
    expect(chosen.understanding.problems.map((problem) => problem.sentence)).toEqual([
      expect.stringMatching(/^Row 4, .+: "wrong"/),
    ])
    expect(await running.twin()).toBe(before)

    const written = await accept(running, chosen)
    expect(written.name).toBe('Take in odd.csv: 3 added')
    expect(written.changed.map((row) => [row.mark, row.hand])).toEqual([
      ['A1', 'LH'],
      ['A2', 'RHR'],
      ['A3', null],
    ])
    const { frame } = await running.schedule()
    expect(frame.levels.map((level) => [level.name, level.openings])).toContainEqual(['2', 1])
    expect((await running.ask('history.read', { limit: 5 })).entries).toHaveLength(1)

    await running.ask('change.undo', {})
    expect(withoutHistory(await running.twin())).toBe(withoutHistory(before))
  })

  test('corrected columns come back for the same headings, also after a restart; others are left alone', async () => {
    const running = await startEmpty()
    const first = await running.ask('intake.file', csv('odd.csv', odd('A1,LH,1\n')))
    await running.ask('intake.choose', { intakeId: first.intakeId, choices: correction })
    // Not accepted yet: nothing to remember.
    const early = await running.ask('intake.file', csv('odd.csv', odd('A1,LH,1\n')))
    expect(early.understanding.openings).toEqual([])
    await accept(running, first, correction)

    const next = await running.ask('intake.file', csv('next-issue.csv', odd('A1,LH,1\nA4,RH,1\n')))
    expect(next.sheets[0]?.matching.columns.map(({ use, because }) => [use, because])).toEqual([
      ['mark', 'remembered'],
      ['hand', 'remembered'],
      ['level', 'named'],
    ])
    expect(next.comparison.counts).toEqual({ added: 1, changed: 0, same: 1, gone: 0 })
    await running.close()

    const again = await start(running.home)
    const later = await again.ask('intake.file', csv('later.csv', odd('A5,LHR,3\n')))
    expect(later.understanding.openings.map((each) => [each.fields.mark, each.fields.hand])).toEqual([
      ['A5', 'LHR'],
    ])
    const other = await again.ask('intake.file', csv('other.csv', 'Code,Swing way,Deck\nA5,LHR,3\n'))
    expect(other.understanding.openings).toEqual([])
  })

  test('the same file again: everything the same, and nothing to write', async () => {
    const running = await startEmpty()
    const file = fixture('units-mixed.xlsx')
    await accept(running, await running.ask('intake.file', file))
    const before = await running.twin()
    const second = await running.ask('intake.file', file)
    expect({ ...second.comparison.counts, same: 0 }).toEqual({ added: 0, changed: 0, same: 0, gone: 0 })
    expect(second.comparison.counts.same).toBeGreaterThan(5)
    await accept(running, second)
    expect(await running.twin()).toBe(before)
  })

  test('a newer revision: added, changed and gone; a value changed by hand stays, and each choice is the person’s', async () => {
    const running = await startEmpty()
    const heading = 'Mark,Level,Hand,Notes'
    await accept(
      running,
      await running.ask(
        'intake.file',
        csv('doors.csv', `${heading}\n101,1,LH,\n102,1,RH,\n103,1,LH,old\n104,1,,\n`),
      ),
    )
    const row = await running.row('102')
    await running.change({
      does: 'set cells',
      how: 'type',
      unreadable: 'refuse',
      cells: [{ openingId: row.id, column: 'hand', text: 'RHR' }],
    })
    const revised = csv('doors.csv', `${heading}\n101,1,LHR,\n102,1,LH,\n103,1,LH,new\n105,1,RH,\n`)
    const seen = await running.ask('intake.file', revised)
    expect(seen.comparison.items.map(({ mark, kind }) => [mark, kind])).toEqual([
      ['101', 'changed'],
      ['102', 'changed'],
      ['103', 'changed'],
      ['105', 'added'],
      ['104', 'gone'],
    ])
    const edited = seen.comparison.items[1]?.changes
    expect(edited).toEqual([{ field: 'hand', label: 'Hand', was: 'RHR', becomes: 'LH', editedSince: true }])
    const written = await running.ask('intake.accept', {
      intakeId: seen.intakeId,
      choices: seen.choices,
      decisions: {
        items: { [seen.comparison.items[4]?.key ?? '']: 'accept' },
        fields: { [seen.comparison.items[2]?.key ?? '']: { notes: 'leave' } },
      },
    })
    expect(written.removed).toHaveLength(1)
    const { rows } = await running.schedule()
    expect(rows.map((each) => `${each.mark} ${each.hand ?? ''} ${each.notes ?? ''}`).toSorted()).toEqual([
      '101 LHR ',
      '102 RHR ',
      '103 LH old',
      '105 RH ',
    ])
    await running.ask('change.undo', {})
    expect((await running.schedule()).rows.map((each) => each.mark).toSorted()).toEqual([
      '101',
      '102',
      '103',
      '104',
    ])
  })

  test('cells pasted from a spreadsheet are taken in the same way', async () => {
    const running = await startEmpty()
    const seen = await running.ask('intake.paste', {
      text: 'Mark\tRoom\tSize\n201\t"Store ""A"""\t3-0 x 7-0\n202\tLobby\tPR 3-0 x 7-0\n',
    })
    expect(seen.fileName).toBe('Pasted rows')
    const written = await accept(running, seen)
    expect(written.changed.map((row) => [row.mark, row.where, row.leaves])).toEqual([
      ['201', 'Store "A"', 1],
      ['202', 'Lobby', 2],
    ])
    expect((await running.refusal('intake.paste', { text: ' \t \n\n' })).code).toBe('nothing-there')
  })

  test('once accepted, dropped, or left behind with its job, it is gone', async () => {
    const running = await startEmpty()
    const file = csv('a.csv', 'Mark,Hand\n101,LH\n')
    const seen = await running.ask('intake.file', file)
    await accept(running, seen)
    const dropped = await running.ask('intake.file', file)
    await running.ask('intake.drop', { intakeId: dropped.intakeId })
    const left = await running.ask('intake.file', file)
    await running.ask('job.make', { name: 'Another' })
    for (const { intakeId } of [seen, dropped, left])
      for (const problem of [
        await running.refusal('intake.choose', { intakeId, choices: noChoices }),
        await running.refusal('intake.accept', { intakeId, choices: noChoices, decisions: nothingDecided }),
      ])
        expect(problem).toEqual({
          code: 'intake-gone',
          sentence: 'This take-in is no longer at hand. Take the file in again; nothing was written.',
        })
  })

  test('a job opened while the file was being read does not get it', async () => {
    const running = await startEmpty()
    const reading = running.refusal('intake.file', csv('a.csv', 'Mark,Hand\n101,LH\n'))
    await running.ask('job.make', { name: 'Another' })
    expect((await reading).code).toBe('intake-gone')
  })
})

const folder = path.resolve(import.meta.dirname, '../../../fixtures/intake')
/** Files that stand in the fixtures for what must be refused, and by which code. */
const refused: Readonly<Record<string, string>> = {
  'stray-corner.xlsx': 'stray-cell',
  'empty-workbook.xlsx': 'empty',
  'empty.csv': 'empty',
  'only-blanks.csv': 'empty',
  'prose-renamed.xlsx': 'not-a-workbook',
  'web-page-renamed.xlsx': 'not-a-workbook',
  'old-kind.xls': 'not-a-workbook',
  'password.xlsx': 'encrypted',
  'cut-short.xlsx': 'truncated',
  'flipped-bytes.xlsx': 'damaged',
  'bomb-overlapping.xlsx': 'too-big',
  'bomb-lying.xlsx': 'damaged',
  'two-models.ifczip': 'several-models-inside',
  'path-tricks.ifczip': 'unsafe-names',
  'cut-short.ifc': 'truncated',
  'no-schema.ifc': 'unknown-schema',
  'unknown-schema.ifc': 'unknown-schema',
}
/** Openings that the others give. */
const taken: Readonly<Record<string, number>> = {
  'bad-hands.csv': 12,
  'blank-and-subtotal-rows.xlsx': 3,
  'clinic-in-feet.ifc': 2,
  'clinic.ifczip': 2,
  'csv-renamed.xlsx': 7,
  'duplicate-marks.csv': 7,
  'five-thousand-rows.xlsx': 5000,
  'formula-injection.csv': 5,
  'formulas.xlsx': 3,
  'headings-in-three-rows.xlsx': 3,
  'level-title-rows.xlsx': 4,
  'marks-as-numbers.xlsx': 6,
  'named-delimiter.csv': 2,
  // No heading that names a door: it says so, and a person can match the columns.
  'prototype-headings.xlsx': 0,
  'repeated-page-headings.xlsx': 24,
  'sizes-in-one-number.xlsx': 8,
  'sizes-turned-into-dates.xlsx': 2,
  'ugly-records.ifc': 4,
  // German headings: the same.
  'umlauts-windows-1252.csv': 0,
  'unclosed-quote.csv': 4,
  'units-mixed.xlsx': 12,
  'whole-sheet-ranges.xlsx': 1,
  'wide-text.txt': 2,
}

describe('every ugly file, through the whole program', () => {
  test('is taken in or refused with one sentence; nothing is written before it is accepted', async () => {
    const running = await startEmpty()
    const empty = await running.twin()
    const came: Record<string, number | string> = {}
    for (const name of readdirSync(folder)) {
      if (!/\.(xlsx|xls|csv|txt|ifc|ifczip)$/.test(name)) continue
      const answer = await running.program.answer({ call: 'intake.file', input: fixture(name) })
      expect(withoutHistory(await running.twin()), name).toBe(withoutHistory(empty))
      if (!answer.ok) {
        came[name] = answer.problem.code
        expect(answer.problem.sentence, name).toMatch(/^[^\n]{20,300}\.$/)
        expect(answer.problem.sentence, name).toContain(name)
        continue
      }
      const seen = answer.value as IntakePreview
      const { openings, warnings } = seen.understanding
      came[name] = openings.length
      if (openings.length === 0) {
        expect(warnings.join(' '), name).toMatch(/column headed as the mark \(door number\) is missing/)
        continue
      }
      const written = await accept(running, seen)
      expect(written.changed, name).toHaveLength(openings.length)
      const { rows } = await running.schedule()
      expect(rows.map((row) => row.mark).toSorted(), name).toEqual(
        openings.map((each) => each.fields.mark).toSorted(),
      )
      await running.ask('change.undo', {})
      expect(withoutHistory(await running.twin()), name).toBe(withoutHistory(empty))
    }
    expect(came).toEqual({ ...refused, ...taken })
  })

  test('a refused file leaves the job file as it was, to the byte', async () => {
    const running = await startEmpty()
    await accept(running, await running.ask('intake.file', fixture('bad-hands.csv')))
    const { path: jobPath } = (await running.schedule()).state
    const twin = await running.twin()
    // Read while it is closed: a look at an open file would drop SQLite's locks on it.
    await running.ask('job.close', {})
    const before = readFileSync(jobPath)
    await running.ask('job.open', { path: jobPath, readOnly: false })
    for (const [name, code] of Object.entries(refused).slice(0, 4))
      expect((await running.refusal('intake.file', fixture(name))).code).toBe(code)
    expect(await running.twin()).toBe(twin)
    await running.ask('job.close', {})
    expect(readFileSync(jobPath).equals(before)).toBe(true)
  })
})

// Our COBie workbooks and open ones of other people under the same checker, through real bytes. Open files, from MANIFEST.md:
// - 2012-03-23-Duplex-Design.xlsx, 2012-03-23-Duplex-Handover.xlsx: BSI (2020) "Duplex Apartment Test Files,"
//   buildingSMART International, CC BY 4.0.
// - 2013-10-09-Clinic-Design-v14-WORKING-01.xlsx: BSI (2020) "Medical-Dental Test Files," buildingSMART International, CC BY 4.0.
import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import {
  cobieBuildings,
  cobieWorkbook,
  compareWithJob,
  joinUnderstandings,
  planTakeIn,
  understandCobie,
  type PlainSheet,
} from '../../core/exchange/index.ts'
import { calendarText, dueItems } from '../../core/handover/index.ts'
import type { JobData } from '../../core/job/index.ts'
import { readFileBytes, writeCobieWorkbook } from '../../electron/intake/index.ts'
import { demoRecords, jobDataOf } from '../../fixtures/index.ts'
import { checkCobie, countErrors } from '../core/exchange/cobie-rules.ts'
import { emptyJob } from '../core/exchange/intake-fixtures.ts'
import { describeWith, lacksOpenData, openDataFolder, testWith } from '../tools/skipping.ts'

const clinic = '2013-10-09-Clinic-Design-v14-WORKING-01.xlsx'
const design = '2012-03-23-Duplex-Design.xlsx'
const handover = '2012-03-23-Duplex-Handover.xlsx'

async function sheetsOf(name: string, bytes: Uint8Array): Promise<readonly PlainSheet[]> {
  const read = await readFileBytes(name, bytes)
  if (!read.ok || read.file.form !== 'sheets') throw new Error(`${name} is no workbook`)
  return read.file.sheets
}
const openSheets = (name: string): Promise<readonly PlainSheet[]> =>
  sheetsOf(name, new Uint8Array(readFileSync(path.join(openDataFolder, name))))

/** The workbooks of a job, written and read back. */
const ownSheets = (data: JobData): Promise<(readonly PlainSheet[])[]> =>
  Promise.all(
    cobieBuildings(data).map(async ({ id, name }) => {
      const workbook = cobieWorkbook(data, {
        buildingId: id,
        createdBy: 'jonah.pryce@harrowstreet.example',
        createdOn: '2026-11-25T09:00:00Z',
        documentFolder: null,
      })
      return sheetsOf(`${name}.xlsx`, await writeCobieWorkbook(workbook))
    }),
  )

/** A workbook with one cell changed. */
const withCell = (
  sheets: readonly PlainSheet[],
  sheet: string,
  row: number,
  field: string,
  text: string,
): PlainSheet[] =>
  sheets.map((each) => {
    if (each.name !== sheet) return each
    const column = each.rows[0]?.cells.findIndex((cell) => cell.text === field) ?? -1
    const cells = (old: (typeof each.rows)[number]['cells']): typeof old =>
      old.map((cell, at) => (at === column ? { text, form: 'text' } : cell))
    return {
      ...each,
      rows: each.rows.map((old) => (old.number === row ? { ...old, cells: cells(old.cells) } : old)),
    }
  })

const demo = jobDataOf(demoRecords())
let written: ReturnType<typeof ownSheets> | null = null
/** The demo job's workbooks, written and read once. */
const demoSheets = (): ReturnType<typeof ownSheets> => (written ??= ownSheets(demo))

describe('the demo job’s workbooks as files', () => {
  const data = demo

  test('break no rule, but for cells that must be known and are not', async () => {
    for (const sheets of await demoSheets())
      expect(new Set(checkCobie(sheets).map((error) => error.rule))).toEqual(new Set(['not null']))
  })

  test('are taken in as the same openings, with no change and no question', async () => {
    const read = (await demoSheets()).map((sheets) => understandCobie(sheets))
    expect(read.flatMap((each) => each.problems)).toEqual([])
    expect(compareWithJob(joinUnderstandings(read), data).counts).toEqual({
      added: 0,
      changed: 0,
      same: data.count('opening'),
      gone: 0,
    })
  })

  test('the same workbook gives the same bytes', async () => {
    const [building] = cobieBuildings(data)
    const workbook = cobieWorkbook(data, {
      buildingId: building?.id ?? '',
      createdBy: 'jonah.pryce@harrowstreet.example',
      createdOn: '2026-11-25T09:00:00Z',
      documentFolder: null,
    })
    expect(await writeCobieWorkbook(workbook)).toEqual(await writeCobieWorkbook(workbook))
  })

  let before: ReadonlySet<string> | null = null
  // Each rule of the checker bites on a good workbook with one thing spoilt.
  test.each([
    { rule: 'not null', sheet: 'Component', row: 2, field: 'Description', text: 'n/a' },
    { rule: 'not empty', sheet: 'Component', row: 2, field: 'BarCode', text: '' },
    { rule: 'unique', sheet: 'Component', row: 3, field: 'Name', text: '101' },
    { rule: 'reference', sheet: 'Component', row: 2, field: 'TypeName', text: 'No such type' },
    { rule: 'reference', sheet: 'System', row: 2, field: 'ComponentNames', text: '101, nothing' },
    { rule: 'reference', sheet: 'Space', row: 2, field: 'CreatedBy', text: 'nobody@harrowstreet.example' },
    { rule: 'time', sheet: 'Floor', row: 2, field: 'CreatedOn', text: '2026-11-25T09:00:60' },
    { rule: 'time', sheet: 'Floor', row: 2, field: 'CreatedOn', text: '2026-11-25' },
    { rule: 'number', sheet: 'Type', row: 2, field: 'WarrantyDurationParts', text: 'two years' },
    { rule: 'mail', sheet: 'Contact', row: 3, field: 'Email', text: 'tomas at the clinic' },
    { rule: 'pick list', sheet: 'Job', row: 2, field: 'Category', text: 'Looking' },
    { rule: 'one space', sheet: 'Component', row: 400, field: 'Space', text: '101, 102' },
  ])('the checker finds: $rule, $sheet $field', async ({ rule, sheet, row, field, text }) => {
    const [sheets = []] = await demoSheets()
    before ??= new Set(checkCobie(sheets).map((error) => JSON.stringify(error)))
    const found = checkCobie(withCell(sheets, sheet, row, field, text)).filter(
      (error) => before?.has(JSON.stringify(error)) === false,
    )
    expect(found).toContainEqual(expect.objectContaining({ rule, sheet, row }))
  })

  test('the checker misses no sheet, no column and no second facility', async () => {
    const [sheets = []] = await demoSheets()
    const rulesOf = (changed: readonly PlainSheet[]): string[] =>
      Object.keys(countErrors(checkCobie(changed)))
    expect(rulesOf(sheets.filter((sheet) => sheet.name !== 'Impact'))).toContain('sheet, Impact, ')
    expect(rulesOf(withCell(sheets, 'Spare', 1, 'Suppliers', 'Supplier'))).toContain(
      'columns, Spare, Suppliers',
    )
    const twice = sheets.map((sheet) =>
      sheet.name === 'Facility' ? { ...sheet, rows: [...sheet.rows, ...sheet.rows.slice(1)] } : sheet,
    )
    expect(rulesOf(twice)).toContain('count, Facility, ')
    expect(rulesOf(withCell(sheets, 'Type', 2, 'Name', 'Nobody’s'))).toContain(
      'type without component, Type, Name',
    )
  })
})

describeWith(lacksOpenData(), 'open COBie workbooks under the same rules', () => {
  // Every error counted here is in the files; looked at by hand. The checker has no error of sheets or columns on any of them.
  test.each<{ name: string; errors: Record<string, number> }>([
    {
      name: design,
      errors: {
        // The template's filler: a cell holds its own heading.
        'reference, Type, Manufacturer': 43,
        'reference, Type, WarrantyGuarantorParts': 43,
        'reference, Type, WarrantyGuarantorLabor': 43,
        'number, Type, WarrantyDurationParts': 43,
        'number, Type, WarrantyDurationLabor': 43,
        'number, Type, ReplacementCost': 43,
        'number, Type, ExpectedLife': 43,
        'not null, Type, DurationUnit': 1,
        // Seconds of 82 and more; days without a time.
        'time, Component, CreatedOn': 19,
        'time, Attribute, CreatedOn': 29,
        'not empty, Attribute, AllowedValues': 36,
        'not empty, Attribute, Description': 9,
        'unique, Attribute, Name SheetName RowName': 1,
      },
    },
    {
      name: handover,
      errors: {
        'time, Contact, CreatedOn': 23,
        'not null, Type, DurationUnit': 1,
        'time, Component, CreatedOn': 19,
        'not empty, Job, Priors': 1,
        'not empty, Job, ResourceNames': 2,
        // A list that ends with a comma.
        'reference, Job, ResourceNames': 1,
        // Two names that are not on the sheet, and one misspelt: "Sing Type C".
        'reference, Document, RowName': 3,
        'not empty, Attribute, AllowedValues': 42,
        'time, Attribute, CreatedOn': 35,
        'not empty, Attribute, Description': 9,
        'unique, Attribute, Name SheetName RowName': 1,
      },
    },
    {
      name: clinic,
      errors: {
        // A design: what only construction knows is "n/a".
        'not null, Type, Manufacturer': 366,
        'not null, Type, ModelNumber': 366,
        'not null, Type, WarrantyGuarantorParts': 366,
        'not null, Type, WarrantyGuarantorLabor': 366,
        'not null, Component, InstallationDate': 5071,
        'not null, Component, WarrantyStartDate': 5071,
        // A thirteenth month, a month of three digits, a sixtieth second.
        'time, Type, CreatedOn': 1,
        'time, Component, CreatedOn': 5,
        'time, System, CreatedOn': 310,
        // Classes of systems on types, and numbers parted by dots.
        'pick list, Type, Category': 14,
        // Made by somebody who is no contact; doors that are no components.
        'reference, Coordinate, CreatedBy': 1982,
        'reference, Coordinate, RowName': 87,
      },
    },
  ])('$name', async ({ name, errors }) => {
    expect(countErrors(checkCobie(await openSheets(name)))).toEqual(errors)
  })

  test('our pick lists hold nothing that those of COBie 2.4 do not, but what a project may choose', async () => {
    const open = (await openSheets(clinic)).find((sheet) => sheet.name === 'PickLists')
    const [ours = []] = await demoSheets()
    const lists = ours.find((sheet) => sheet.name === 'PickLists')
    const valuesOf = (sheet: PlainSheet | undefined): Map<string, Set<string>> =>
      new Map(
        (sheet?.rows[0]?.cells ?? []).map((head, at) => [
          head.text,
          new Set(
            sheet?.rows.slice(1).flatMap((row) => {
              const text = row.cells[at]?.text.trim() ?? ''
              return text === '' ? [] : [text]
            }),
          ),
        ]),
      )
    const theirs = valuesOf(open)
    for (const [list, values] of valuesOf(lists)) {
      // Roles are the people's own words; the classes are of the list.
      if (list === 'Category-Role') continue
      expect([list, [...values].filter((value) => theirs.get(list)?.has(value) !== true)]).toEqual([list, []])
    }
  })

  test.each([
    { name: clinic, openings: 254 },
    { name: handover, openings: 14 },
  ])(
    '$name, taken in and handed over: the same $openings identifiers, and nothing changed',
    async ({ name, openings }) => {
      const data = emptyJob('metric')
      let next = 0
      const sheets = await openSheets(name)
      const understanding = understandCobie(sheets)
      const { change } = planTakeIn({
        understanding,
        comparison: compareWithJob(understanding, data),
        decisions: {},
        data,
        newId: () => `id ${(next += 1)}`,
        file: name,
      })
      data.apply(change.edits)
      expect(data.count('opening')).toBe(openings)

      const [ours = []] = await ownSheets(data)
      const doors = (from: readonly PlainSheet[]): string[][] => {
        const component = from.find((sheet) => sheet.name === 'Component')
        const heads = component?.rows[0]?.cells.map((cell) => cell.text) ?? []
        const at = (row: PlainSheet['rows'][number], field: string): string =>
          row.cells[heads.indexOf(field)]?.text ?? ''
        return (component?.rows ?? [])
          .filter((row) => at(row, 'ExtObject') === 'IfcDoor')
          .map((row) => ['Name', 'TypeName', 'ExtIdentifier'].map((field) => at(row, field).trim()))
          .toSorted((a, b) => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1))
      }
      // Doors without an identifier there have ours.
      const given = doors(ours).map((row) => row.map((text) => (/^id \d+$/.test(text) ? 'n/a' : text)))
      expect(given).toEqual(doors(sheets))
      const { items } = compareWithJob(understandCobie(ours), data)
      expect(items.filter((item) => item.kind !== 'same')).toEqual([])
      expect(new Set(checkCobie(ours).map((error) => error.rule))).toEqual(new Set(['not null']))
    },
  )
})

const lacksPythonCalendar = (): string | null =>
  spawnSync('python3', ['-c', 'import icalendar']).status === 0
    ? null
    : 'the Python package icalendar is not on this machine'

testWith(lacksPythonCalendar(), 'another program reads the maintenance calendar', () => {
  const data = demo
  const items = dueItems(data, '2026-11-25').filter((item) => item.dueOn !== null)
  const text = calendarText(items, { jobId: data.job.id, name: data.job.name, now: '2026-11-25T09:00:00Z' })
  const script = [
    'import sys, json, icalendar',
    'events = [e for e in icalendar.Calendar.from_ical(sys.stdin.buffer.read()).walk("VEVENT")]',
    'print(json.dumps([[str(e["SUMMARY"]), e["DTSTART"].dt.isoformat()] for e in events]))',
  ].join('\n')
  const run = spawnSync('python3', ['-c', script], { input: text, encoding: 'utf8' })
  expect(run.stderr).toBe('')
  expect(JSON.parse(run.stdout)).toEqual(items.map((item) => [item.title, item.dueOn]))
})

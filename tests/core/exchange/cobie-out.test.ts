import { describe, expect, test } from 'vitest'
import {
  cobieBuildings,
  cobieWorkbook,
  compareWithJob,
  joinUnderstandings,
  understandCobie,
  type CobieOutOptions,
  type CobieWorkbook,
  type PlainSheet,
} from '../../../core/exchange/index.ts'
import { addMonths } from '../../../core/handover/index.ts'
import type { JobData, RecordKind } from '../../../core/job/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'
import { smallJob } from '../support/small-job.ts'
import { checkCobie, countErrors } from './cobie-rules.ts'
import { sheetOf } from './intake-fixtures.ts'

const options: Omit<CobieOutOptions, 'buildingId'> = {
  createdBy: 'jonah.pryce@harrowstreet.example',
  createdOn: '2026-11-25T09:00:00.000Z',
  documentFolder: 'documents',
}
const put = (data: JobData, kind: RecordKind, record: object): void => data.put(kind, record as never)
const change = (data: JobData, kind: RecordKind, id: string, to: object): void =>
  put(data, kind, { ...data.get(kind, id), ...to })

/** The workbook as the byte readers would give it. tests/outside goes through real bytes. */
const plainOf = ({ sheets }: CobieWorkbook): PlainSheet[] =>
  sheets.map(({ name, headings, rows }) => ({
    ...sheetOf([[...headings], ...rows.map((row) => row.map(String))]),
    name,
  }))
const workbooksOf = (data: JobData, more: Partial<CobieOutOptions> = {}): CobieWorkbook[] =>
  cobieBuildings(data).map(({ id }) => cobieWorkbook(data, { ...options, ...more, buildingId: id }))
const rowsOf = (workbook: CobieWorkbook | undefined, name: string): Record<string, string | number>[] => {
  const sheet = workbook?.sheets.find((each) => each.name === name)
  return (sheet?.rows ?? []).map((row) =>
    Object.fromEntries((sheet?.headings ?? []).map((heading, at) => [heading, row[at] ?? ''])),
  )
}
/** What a take-in of the job's own workbooks would change. */
const comparedWithItself = (data: JobData) =>
  compareWithJob(joinUnderstandings(workbooksOf(data).map((each) => understandCobie(plainOf(each)))), data)

describe('the demo job as COBie workbooks', () => {
  const data = jobDataOf(demoRecords())
  const workbooks = workbooksOf(data)

  test('breaks no rule, but for cells that must be known and are not', () => {
    for (const workbook of workbooks) {
      const errors = checkCobie(plainOf(workbook))
      expect(new Set(errors.map((error) => error.rule))).toEqual(new Set(['not null']))
      expect(new Set(errors.map((error) => error.found))).toEqual(new Set(['n/a']))
    }
  })

  test('says each of those in a sentence, and no other', () => {
    for (const workbook of workbooks) {
      const place = (each: { sheet: string; row: number | null; field: string }): string =>
        `${each.sheet} ${each.row} ${each.field}`
      const sheets = new Map(workbook.sheets.map((sheet) => [sheet.name, sheet]))
      const empty = workbook.problems.filter(({ sheet, row, field }) => {
        const its = sheets.get(sheet)
        return row !== null && its?.rows[row - 2]?.[its.headings.indexOf(field)] === 'n/a'
      })
      expect(new Set(empty.map(place))).toEqual(new Set(checkCobie(plainOf(workbook)).map(place)))
      for (const { sentence } of workbook.problems) expect(sentence).toMatch(/: .*; expected .*\.$/)
    }
    const undated = [...data.all('opening')].find(
      (opening) => opening.installedOn === null && opening.levelId === 'level-2',
    )
    expect(workbooks[0]?.problems.map((each) => each.sentence)).toContain(
      `Component "${undated?.mark}", InstallationDate: not known; expected the day it was installed.`,
    )
  })

  test('has one facility each, and every opening and fitting in one of them', () => {
    expect(workbooks.map((each) => rowsOf(each, 'Facility').map((row) => row['Name']))).toEqual([
      ['Main building'],
      ['Annex'],
    ])
    const doors = workbooks.flatMap((each) =>
      rowsOf(each, 'Component').filter((row) => row['ExtObject'] === 'IfcDoor'),
    )
    expect(doors).toHaveLength(data.count('opening'))
    expect(new Set(doors.map((row) => row['ExtIdentifier']))).toEqual(
      new Set([...data.all('opening')].map((opening) => opening.id)),
    )
    const systems = workbooks.flatMap((each) => rowsOf(each, 'System'))
    expect(systems).toHaveLength(doors.length)
  })

  test('read back as the same openings, and nothing changed', () => {
    const { counts, items } = comparedWithItself(data)
    expect(items.filter((item) => item.kind !== 'same')).toEqual([])
    expect(counts).toEqual({ added: 0, changed: 0, same: data.count('opening'), gone: 0 })
  })

  test('the same job and the same time give the same workbook', () => {
    expect(workbooksOf(jobDataOf(demoRecords()))).toEqual(workbooks)
  })

  test('what was noted of an opening is there', () => {
    const opening = data.get('opening', 'opening-118')
    const component = rowsOf(workbooks[0], 'Component').find((row) => row['Name'] === '118')
    expect(component).toMatchObject({
      CreatedBy: options.createdBy,
      CreatedOn: '2026-11-25T09:00:00',
      InstallationDate: `${opening?.installedOn}T00:00:00`,
      WarrantyStartDate: `${opening?.installedOn}T00:00:00`,
      TagNumber: opening?.assetTag,
      ExtSystem: 'Lintelbook',
    })
    const attributes = rowsOf(workbooks[0], 'Attribute').filter((row) => row['RowName'] === '118 S1')
    // As it stands: found on a visit, after it was set.
    const found = data.get('settingValue', 'found-118-s1-hold-time')
    expect(attributes.find((row) => row['Name'] === 'Hold time')?.['Value']).toBe(found?.value)
    const [finding] = rowsOf(workbooks[0], 'Issue').filter((row) => row['RowName1'] === '118 S1')
    expect(finding).toMatchObject({ Chance: 'Has Occurred', Owner: options.createdBy })
    const feed = rowsOf(workbooks[0], 'Connection').find((row) => row['Name'] === '118 feed')
    expect(feed).toMatchObject({ ConnectionType: 'Supply', RowName1: 'PS2', PortName1: 'Output 1' })
  })

  test('yearly inspections and batteries are jobs with a day and an interval', () => {
    const jobs = rowsOf(workbooks[0], 'Job')
    const supply = data.get('supply', 'supply-ps1')
    const replaceBy = addMonths(supply?.batteryInstalledOn ?? '', 48)
    expect(jobs.find((row) => row['Name'] === 'Replace the battery of PS1')).toMatchObject({
      Start: `${replaceBy}T00:00:00`,
      Frequency: 48,
      FrequencyUnit: 'month',
      ResourceNames: 'Battery',
    })
    // Every opening with a fire label, or of which it is not known, is in one inspection, of its own type.
    const inspections = jobs.filter((row) => row['Category'] === 'Inspection')
    const listed = inspections.flatMap(
      (row) => /^Openings ([^.]*)\./.exec(String(row['Description']))?.[1]?.split(', ') ?? [],
    )
    const wanted = [...data.all('opening')].filter(
      (opening) =>
        opening.fireLabelMinutes !== 0 &&
        data.get('level', opening.levelId)?.buildingId === cobieBuildings(data)[0]?.id,
    )
    expect(listed).toHaveLength(wanted.length)
    expect(new Set(listed)).toEqual(new Set(wanted.map((opening) => opening.mark)))
    const dated = inspections.find((row) => row['Start'] !== 'n/a')
    expect(dated).toMatchObject({ Frequency: 12, FrequencyUnit: 'month', Status: 'Not Yet Started' })
  })
})

describe('what COBie’s columns cannot hold comes back all the same', () => {
  const opening = (data: JobData, id: string, to: object): void => change(data, 'opening', id, to)
  test.each<{ what: string; make: (data: JobData) => void }>([
    {
      what: 'the small job as it is: nothing known of one, only the room led from of another',
      make: () => {},
    },
    { what: 'two openings of one mark on two levels', make: (data) => opening(data, 'f', { mark: '101' }) },
    { what: 'marks that differ in case alone', make: (data) => opening(data, 'f', { mark: 'b2-03' }) },
    {
      what: 'a comma in a mark and in a room number',
      make: (data) => {
        opening(data, 'a', { mark: '101, left' })
        change(data, 'space', 'r101', { number: '101, west' })
      },
    },
    {
      what: 'one room number on two levels',
      make: (data) => change(data, 'space', 'r201', { number: '101' }),
    },
    {
      what: 'an opening whose room is on another level',
      make: (data) => opening(data, 'f', { toSpaceId: 'r101' }),
    },
    { what: 'a room of another building', make: (data) => opening(data, 'i', { toSpaceId: 'r101' }) },
    { what: 'a mark that says nothing elsewhere', make: (data) => opening(data, 'd', { mark: 'N/A 1' }) },
    {
      what: 'a door type that is a part’s name',
      make: (data) => opening(data, 'a', { doorType: 'Card reader' }),
    },
    {
      what: 'door types that differ in case alone',
      make: (data) => {
        opening(data, 'a', { doorType: 'FG' })
        opening(data, 'b', { doorType: 'fg' })
      },
    },
    {
      what: 'a wide single leaf and a narrow pair',
      make: (data) => {
        opening(data, 'a', { widthMicrometres: 1_828_800 })
        opening(data, 'c', { widthMicrometres: 1_066_800 })
      },
    },
    {
      what: 'leaves that nobody gave',
      make: (data) => {
        opening(data, 'k', { ...data.get('opening', 'a'), id: 'k', mark: '777' })
      },
    },
    {
      what: 'identifiers that came in',
      make: (data) => {
        opening(data, 'a', { sourceId: '1hOSvn6df7F8_7GcBWlR72' })
        change(data, 'space', 'r101', { sourceId: '0BTBFw6f90Nfh9rP1dlXru' })
      },
    },
  ])('$what', ({ make }) => {
    const data = smallJob()
    make(data)
    const { items } = comparedWithItself(data)
    expect(items.filter((item) => item.kind !== 'same')).toEqual([])
    expect(items).toHaveLength(data.count('opening'))
    for (const workbook of workbooksOf(data))
      expect(
        Object.keys(countErrors(checkCobie(plainOf(workbook)))).filter((key) => !key.startsWith('not null')),
      ).toEqual([])
  })

  test('a mark changed since is still the same opening, by our own identifier', () => {
    const data = smallJob()
    const [main] = workbooksOf(data)
    if (main === undefined) throw new Error('no workbook')
    change(data, 'opening', 'b', { mark: '102X' })
    const { items } = compareWithJob(understandCobie(plainOf(main)), data)
    expect(
      items
        .filter((item) => item.kind !== 'same')
        .map(({ openingId, changes }) => [openingId, changes[0]?.field]),
    ).toEqual([['b', 'mark']])
  })

  test('identifiers that came in are those that go out; ours stand where none did', () => {
    const data = smallJob()
    change(data, 'opening', 'a', { sourceId: '1hOSvn6df7F8_7GcBWlR72' })
    change(data, 'level', 'ground', { sourceId: '1xS3BCk291UvhgP2dvNMKI' })
    change(data, 'space', 'r101', { sourceId: '0BTBFw6f90Nfh9rP1dlXru' })
    const [main] = workbooksOf(data)
    const idOf = (sheet: string, name: string): unknown[] => {
      const row = rowsOf(main, sheet).find((each) => each['Name'] === name)
      return [row?.['ExtSystem'], row?.['ExtIdentifier']]
    }
    expect(idOf('Component', '101')).toEqual(['n/a', '1hOSvn6df7F8_7GcBWlR72'])
    expect(idOf('Component', '102')).toEqual(['Lintelbook', 'b'])
    expect(idOf('Floor', 'Ground')).toEqual(['n/a', '1xS3BCk291UvhgP2dvNMKI'])
    expect(idOf('Space', '101')).toEqual(['n/a', '0BTBFw6f90Nfh9rP1dlXru'])
    expect(idOf('Space', '102')).toEqual(['Lintelbook', 'r102'])
  })
})

describe('contacts', () => {
  const contact = (id: string, name: string, email: string | null): object => ({
    id,
    name,
    company: 'The integrator',
    role: 'Technician',
    email,
    phone: '555-0106',
    notes: null,
  })
  const sentences = (data: JobData, createdBy: string): string[] =>
    cobieWorkbook(data, { ...options, createdBy, buildingId: 'main' })
      .problems.filter((each) => each.sheet === 'Contact')
      .map((each) => each.sentence)

  test('who makes the workbook becomes one, with what is missing said', () => {
    const data = smallJob()
    const [workbook] = workbooksOf(data, { createdBy: 'new.person@harrowstreet.example' })
    expect(rowsOf(workbook, 'Contact').map((row) => row['Email'])).toEqual([
      'new.person@harrowstreet.example',
    ])
    expect(sentences(data, 'new.person@harrowstreet.example')).toContain(
      'Contact "new.person@harrowstreet.example", Phone: not known; expected a telephone number.',
    )
  })

  test('one without an address, with a wrong one or with another’s is left out and said', () => {
    const data = smallJob()
    put(data, 'contact', contact('one', 'Wen Okafor', 'wen@harrowstreet.example'))
    put(data, 'contact', contact('two', 'Ada Fitter', null))
    put(data, 'contact', contact('three', 'Tom Fitter', 'tom at home'))
    put(data, 'contact', contact('four', 'Another Wen', 'WEN@harrowstreet.example'))
    expect(sentences(data, 'wen@harrowstreet.example')).toEqual([
      'Contact "Ada Fitter", Email: not known; expected an e-mail address, or the contact cannot be in the workbook.',
      'Contact "Tom Fitter", Email: "tom at home" is none; expected an e-mail address, or the contact cannot be in the workbook.',
      'Contact "Another Wen", Email: another contact has WEN@harrowstreet.example; expected one contact for each address.',
    ])
  })

  test('what is no address is said of who makes it', () => {
    expect(sentences(smallJob(), 'me')).toContain(
      'Contact "me", Email: this is none; expected an e-mail address.',
    )
  })
})

describe('spares, tasks and documents', () => {
  const data = smallJob()
  put(data, 'spare', { id: 's1', partId: 'lock', count: 2, whereKept: 'Riser cupboard', notes: null })
  put(data, 'part', { ...data.get('part', 'lock'), id: 'bolt', name: 'Electric bolt' })
  put(data, 'spare', { id: 's2', partId: 'bolt', count: 1, whereKept: null, notes: null })
  const task = (id: string, to: object): void =>
    put(data, 'maintenanceTask', {
      id,
      position: 0,
      name: id,
      everyMonths: 6,
      partId: null,
      openingId: null,
      supplyId: null,
      nextOn: '2026-12-31',
      notes: null,
      ...to,
    })
  task('Clean the readers', { partId: 'reader' })
  task('Test the yard door', { openingId: 'i', everyMonths: null, nextOn: null })
  task('Walk round', {})
  const document = (id: string, to: object): void =>
    put(data, 'document', {
      id,
      name: `${id}.pdf`,
      form: null,
      mediaType: 'application/pdf',
      sha256: 'abc',
      byteCount: 3,
      reference: null,
      partId: null,
      openingId: null,
      fittingId: null,
      proofId: null,
      visitId: null,
      notes: null,
      ...to,
    })
  document('lock manual', { form: 'manual', partId: 'lock' })
  document('yard photo', { openingId: 'i' })
  document('service note', { visitId: 'visit' })
  document('plan', { form: 'Contract Drawings' })
  const [main, annexe] = workbooksOf(data)

  test('spares go by the part’s type; one of a part that is fitted nowhere is said and left out', () => {
    expect(rowsOf(main, 'Spare')).toMatchObject([
      {
        Name: 'Spare Electrified lock',
        Category: 'Spare',
        TypeName: 'Electrified lock',
        Description: '2 kept; Riser cupboard',
      },
    ])
    expect(main?.problems.filter((each) => each.field === 'TypeName' && each.row === null)).toMatchObject([
      { sheet: 'Spare', sentence: expect.stringContaining('"Electric bolt"') },
    ])
  })

  test('tasks are in the workbook of what they are about', () => {
    const names = (workbook: CobieWorkbook | undefined): unknown[] =>
      rowsOf(workbook, 'Job')
        .filter((row) => row['Category'] === 'PM')
        .map((row) => [row['Name'], row['TypeName'], row['Start'], row['Frequency'], row['FrequencyUnit']])
    expect(names(main)).toEqual([
      ['Clean the readers', 'Card reader', '2026-12-31T00:00:00', 6, 'month'],
      ['Walk round', 'n/a', '2026-12-31T00:00:00', 6, 'month'],
      ['Replace the battery of PS-1', 'Part not known', 'n/a', 48, 'month'],
    ])
    expect(names(annexe)).toContainEqual(['Test the yard door', 'Not known', 'n/a', 'n/a', 'as required'])
    expect(names(annexe).flat()).not.toContain('Replace the battery of PS-1')
  })

  test('documents stand by what they are about, in the folder they are written to', () => {
    const named = (workbook: CobieWorkbook | undefined): unknown[] =>
      rowsOf(workbook, 'Document').map((row) =>
        ['Name', 'Category', 'SheetName', 'RowName', 'Directory', 'File'].map((field) => row[field]),
      )
    expect(named(main)).toEqual([
      [
        'lock manual.pdf',
        'Operation and Maintenance',
        'Type',
        'Electrified lock',
        'documents',
        'lock manual.pdf',
      ],
      ['service note.pdf', 'n/a', 'Component', '101', 'documents', 'service note.pdf'],
      ['plan.pdf', 'Contract Drawings', 'Facility', 'Main', 'documents', 'plan.pdf'],
    ])
    expect(named(annexe).map((row) => (row as string[])[0])).toContain('yard photo.pdf')
  })
})

test('a building that is not of the job is a bug', () => {
  expect(() => cobieWorkbook(smallJob(), { ...options, buildingId: 'elsewhere' })).toThrow(
    'no building elsewhere',
  )
})

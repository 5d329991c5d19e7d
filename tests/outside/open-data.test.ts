// Open files of other people through the whole program: read in a worker, understood, compared, written into a job file,
// and looked at as rows of the schedule. Sources and licences, from MANIFEST.md beside the files:
// - Duplex_A_20110907.ifc, 2012-03-23-Duplex-Design.xlsx, 2012-03-23-Duplex-Handover.xlsx: BSI (2020) "Duplex Apartment
//   Test Files," buildingSMART International, CC BY 4.0.
// - 2013-10-09-Clinic-Design-v14-WORKING-01.xlsx: BSI (2020) "Medical-Dental Test Files," buildingSMART International,
//   CC BY 4.0.
// - LargeBuilding.ifc: andrewisen/bim-whale-ifc-samples, MIT.
// - fail-grf005-ifc4_blank_map_conversion.ifc: buildingSMART/ifc-gherkin-rules, MIT.
// - DigitalHub_v1.xlsx: RWTH-E3D/DigitalHub, MIT.
// - ubcv_building_entrances_stripped.csv: UBC geospatial open data, derived, ODC PDDL 1.0.
// The tables in expected/ were made by an independent Part 21 reader and by two spreadsheet readers that agreed.
import { randomUUID } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import Papa from 'papaparse'
import { afterAll, expect, test } from 'vitest'
import {
  compareWithJob,
  noChoices,
  planTakeIn,
  readPlainFile,
  type Comparison,
  type IntakeChoices,
  type IntakeReading,
} from '../../core/exchange/index.ts'
import { scheduleFrame, scheduleRows, type ScheduleRow } from '../../core/schedule/index.ts'
import { newJobRecords } from '../../electron/calls/index.ts'
import { problemSentence, readFileInWorker } from '../../electron/intake/index.ts'
import { makeJobFile, writeJobAsTwin, type JobFile } from '../../electron/store/index.ts'
import { describeWith, lacksOpenData, openDataFolder } from '../tools/skipping.ts'

const clinic = '2013-10-09-Clinic-Design-v14-WORKING-01.xlsx'
const design = '2012-03-23-Duplex-Design.xlsx'
const handover = '2012-03-23-Duplex-Handover.xlsx'
const duplexModel = 'Duplex_A_20110907.ifc'
const grf005 = 'fail-grf005-ifc4_blank_map_conversion.ifc'

const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-open-data-'))
const files: JobFile[] = []
afterAll(() => {
  for (const file of files) file.close()
  rmSync(folder, { recursive: true, force: true })
})

function freshJob(): JobFile {
  const options = { who: 'Ada Fitter', now: () => '2026-03-02T08:00:00Z', newId: randomUUID }
  const jobPath = path.join(folder, `job ${files.length + 1}.lintelbook`)
  const made = makeJobFile(jobPath, newJobRecords(options, 'Open data'), options)
  if (!made.ok) throw new Error(made.sentence)
  files.push(made.file)
  return made.file
}

interface Seen {
  readonly reading: IntakeReading
  readonly comparison: Comparison
}

async function look(file: JobFile, name: string, choices: IntakeChoices = noChoices): Promise<Seen> {
  const read = await readFileInWorker(name, readFileSync(path.join(openDataFolder, name)))
  if (!read.ok) throw new Error(problemSentence(read.problem))
  const reading = readPlainFile(read.file, { units: file.data.job.units, choices, remembered: [] })
  return { reading, comparison: compareWithJob(reading.understanding, file.data) }
}

function write(file: JobFile, name: string, { reading, comparison }: Seen): string {
  const { change } = planTakeIn({
    understanding: reading.understanding,
    comparison,
    decisions: {},
    data: file.data,
    newId: randomUUID,
    file: name,
  })
  if (change.edits.length === 0) return change.name
  const committed = file.commit(change)
  if (!committed.ok) throw new Error(committed.sentence)
  return committed.name
}

async function takeIn(file: JobFile, name: string, choices: IntakeChoices = noChoices): Promise<Seen> {
  const seen = await look(file, name, choices)
  write(file, name, seen)
  return seen
}

/** What the job says, without how it came to say it. */
const stateOf = (file: JobFile): string =>
  JSON.stringify({ ...(JSON.parse(writeJobAsTwin(file)) as object), history: [] })

type Expected = Readonly<Record<string, string>>

function expectedDoors(name: string): Expected[] {
  const text = readFileSync(path.join(openDataFolder, 'expected', name), 'utf8').replace(/^\ufeff/, '')
  return Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true }).data
}

/** Filler of COBie templates says nothing: "n/a", or the heading's own name. */
const said = (row: Expected, heading: string): string | null => {
  const text = (row[heading] ?? '').trim()
  return text === '' || text === 'n/a' || text === heading ? null : text
}
const plainWords = (text: string): string => text.trim().replace(/\s+/g, ' ')
const micrometres = (millimetres: string | null): number | null =>
  millimetres === null ? null : Math.round(Number(millimetres) * 1000)
const roomNumber = (file: JobFile, id: string | null): string | null =>
  id === null ? null : (file.data.get('space', id)?.number ?? null)

/** The rows of a job by mark, each with its opening's record. */
function rowsOf(file: JobFile) {
  const levels = new Map(scheduleFrame(file.data).levels.map((level) => [level.id as string, level.name]))
  return scheduleRows(file.data).map((row: ScheduleRow) => {
    const opening = file.data.get('opening', row.id)
    if (opening === undefined) throw new Error(`no opening ${row.id}`)
    return { row, opening, level: levels.get(row.levelId) }
  })
}

describeWith(lacksOpenData(), 'open data: COBie workbooks', () => {
  test.each([
    { name: clinic, table: 'Clinic-Design.doors.csv', openings: 254 },
    { name: design, table: 'Duplex-Design.doors.csv', openings: 14 },
    { name: handover, table: 'Duplex-Handover.doors.csv', openings: 14 },
  ])('$name: $openings openings, every field as expected', async ({ name, table, openings }) => {
    const file = freshJob()
    const { reading, comparison } = await takeIn(file, name)
    expect(reading.form).toBe('cobie')
    expect(comparison.counts).toEqual({ added: openings, changed: 0, same: 0, gone: 0 })
    const wanted = expectedDoors(table)
    expect(wanted).toHaveLength(openings)
    const rows = rowsOf(file)
    expect(rows).toHaveLength(openings)
    const got = rows.map(({ row, opening, level }) => ({
      name: row.mark,
      type: row.doorType,
      spaces: [roomNumber(file, opening.toSpaceId), roomNumber(file, opening.fromSpaceId)],
      floor: level,
      extIdentifier: opening.sourceId,
      serial: row.serial,
      tag: row.assetTag,
      installed: row.installedOn,
      hardwareSet: row.hardwareSet,
      width: row.widthMicrometres,
      height: row.heightMicrometres,
      frame: row.frameMaterial,
      shielded: opening.source?.cells['Shielded'] ?? null,
      soundProof: opening.source?.cells['SoundProof'] ?? null,
      sourceFile: row.sourceFile,
    }))
    const byName = (a: { name: string }, b: { name: string }): number => (a.name < b.name ? -1 : 1)
    expect(got.toSorted(byName)).toEqual(
      wanted
        .map((door) => {
          const [to = null, from = null] = (door['spaces'] ?? '').split('|')
          return {
            name: plainWords(door['Name'] ?? ''),
            type: plainWords(door['TypeName'] ?? ''),
            spaces: [to, from],
            // A door between two floors is on the first one named, with a question about it.
            floor: door['floors']?.split('|')[0],
            extIdentifier: said(door, 'ExtIdentifier'),
            serial: said(door, 'SerialNumber'),
            tag: said(door, 'TagNumber'),
            installed: said(door, 'InstallationDate')?.slice(0, 10) ?? null,
            hardwareSet: said(door, 'HardwareSet'),
            width: micrometres(said(door, 'Width')),
            height: micrometres(said(door, 'Height')),
            frame: said(door, 'DoorFrame'),
            shielded: said(door, 'Shielded'),
            soundProof: said(door, 'SoundProof'),
            sourceFile: name,
          }
        })
        .toSorted(byName),
    )
    expect(file.check()).toEqual({ sound: true, findings: [] })
  })

  test('the Clinic a second time: everything the same, and nothing to write', async () => {
    const file = freshJob()
    const before = stateOf(file)
    await takeIn(file, clinic)
    const revision = file.revision
    const twin = writeJobAsTwin(file)
    const second = await look(file, clinic)
    expect(second.comparison.counts).toEqual({ added: 0, changed: 0, same: 254, gone: 0 })
    write(file, clinic, second)
    expect(file.revision).toBe(revision)
    expect(writeJobAsTwin(file)).toBe(twin)
    // The workbook holds real addresses of its authors: none may come into the job.
    expect(twin).not.toMatch(/[\w.]+@[\w.]+\.\w/)
    expect(file.undo().ok).toBe(true)
    expect(stateOf(file)).toBe(before)
  })

  test('the Duplex, design then handover: serials and days change, nothing twice, one undo each', async () => {
    const file = freshJob()
    const empty = stateOf(file)
    await takeIn(file, design)
    const designed = stateOf(file)
    const seen = await look(file, handover)
    expect(seen.comparison.counts).toEqual({ added: 0, changed: 14, same: 0, gone: 0 })
    // The handover workbook also gives some types their material; a door with a material has at least one leaf.
    const allowed = new Set(['serial', 'installedOn', 'doorMaterial', 'leaves'])
    for (const { changes, doubt } of seen.comparison.items) {
      const fields = changes.map((change) => change.field)
      expect(fields).toEqual(expect.arrayContaining(['serial', 'installedOn']))
      expect(fields.filter((field) => !allowed.has(field))).toEqual([])
      expect(changes.some((change) => change.editedSince)).toBe(false)
      expect(doubt).toBeNull()
    }
    expect(write(file, handover, seen)).toBe(`Take in ${handover}: 14 changed`)
    expect(file.data.count('opening')).toBe(14)
    const wanted = expectedDoors('Duplex-Handover.doors.csv')
    const serials = new Map(rowsOf(file).map(({ row, opening }) => [opening.sourceId, row]))
    for (const door of wanted)
      expect(serials.get(door['ExtIdentifier'] ?? '')).toMatchObject({
        serial: door['SerialNumber'],
        installedOn: door['InstallationDate']?.slice(0, 10),
      })
    expect(file.undo().ok).toBe(true)
    expect(stateOf(file)).toBe(designed)
    expect(file.undo().ok).toBe(true)
    expect(stateOf(file)).toBe(empty)
    expect(file.undo().ok).toBe(false)
  })

  test('the Duplex, workbook then model: the same doors by GlobalId, so none twice', async () => {
    const file = freshJob()
    await takeIn(file, design)
    const { comparison } = await takeIn(file, duplexModel)
    expect(comparison.counts).toEqual({ added: 0, changed: 14, same: 0, gone: 0 })
    expect(file.data.count('opening')).toBe(14)
    const ids = expectedDoors('Duplex_A_20110907.ifc.doors.csv').map((door) => door['GlobalId'] ?? '')
    expect(
      rowsOf(file)
        .map(({ opening }) => opening.sourceId ?? '')
        .toSorted(),
    ).toEqual(ids.toSorted())
  })
})

describeWith(lacksOpenData(), 'open data: building models', () => {
  test.each([
    { name: duplexModel, table: 'Duplex_A_20110907.ifc.doors.csv', openings: 14, mark: 'Revit_Mark' },
    { name: 'LargeBuilding.ifc', table: 'LargeBuilding.ifc.doors.csv', openings: 18, mark: 'Revit_Mark' },
    { name: grf005, table: 'grf005.ifc.doors.csv', openings: 21, mark: 'Name' },
  ])('$name: $openings openings, every field as expected', async ({ name, table, openings, mark }) => {
    const file = freshJob()
    const { comparison } = await takeIn(file, name)
    expect(comparison.counts).toEqual({ added: openings, changed: 0, same: 0, gone: 0 })
    const wanted = expectedDoors(table)
    expect(wanted).toHaveLength(openings)
    const rows = rowsOf(file)
    const got = rows.map(({ row, opening, level }) => ({
      globalId: opening.sourceId ?? '',
      mark: row.mark,
      name: opening.source?.cells['Name'],
      tag: opening.source?.cells['Tag'],
      width: row.widthMicrometres,
      height: row.heightMicrometres,
      storey: level,
      fireLabel: row.fireLabelMinutes,
      external: opening.source?.cells['IsExternal']?.slice(0, 1) ?? '',
    }))
    const byId = (a: { globalId: string }, b: { globalId: string }): number =>
      a.globalId < b.globalId ? -1 : 1
    expect(got.toSorted(byId)).toEqual(
      wanted
        .map((door) => ({
          globalId: door['GlobalId'] ?? '',
          mark: door[mark],
          name: door['Name'],
          tag: door['Tag'],
          width: micrometres(door['width_mm'] ?? null),
          height: micrometres(door['height_mm'] ?? null),
          storey: door['storey'],
          // These models fill FireRating with the property's own name: not known, which is not "no label".
          fireLabel: null,
          external: door['DoorCommon_IsExternal'] ?? '',
        }))
        .toSorted(byId),
    )
    expect(
      wanted.map((door) => door['DoorCommon_FireRating']).every((text) => /^$|Fire Rating$/.test(text ?? '')),
    ).toBe(true)
    // A model never says which side is keyed, so it gives no hand.
    expect(rows.every(({ row }) => row.hand === null)).toBe(true)
    const again = await look(file, name)
    expect(again.comparison.counts).toEqual({ added: 0, changed: 0, same: openings, gone: 0 })
    expect(file.check().sound).toBe(true)
  })
})

describeWith(lacksOpenData(), 'open data: files that are no schedule', () => {
  test('a workbook whose used range has 1,048,558 rows is read quickly, and said to be no schedule', async () => {
    const file = freshJob()
    const before = writeJobAsTwin(file)
    const started = performance.now()
    const { reading } = await look(file, 'DigitalHub_v1.xlsx')
    expect(performance.now() - started).toBeLessThan(10_000)
    expect(reading.understanding.openings).toEqual([])
    expect(reading.understanding.warnings).toEqual([
      expect.stringMatching(/^No sheet was recognised as a schedule: .*mark \(door number\) is missing/),
    ])
    expect(writeJobAsTwin(file)).toBe(before)
  })

  test('1,466 campus entrances without a door number: said to lack it; with a column chosen, all are taken in', async () => {
    const name = 'ubcv_building_entrances_stripped.csv'
    const file = freshJob()
    const { reading } = await look(file, name)
    expect(reading.understanding.openings).toEqual([])
    expect(reading.understanding.warnings.join(' ')).toMatch(/mark \(door number\) is missing/)
    const [sheet] = reading.sheets
    expect(sheet?.rows).toBe(1467)
    const columnOf = (heading: string): number =>
      sheet?.matching.columns.find((column) => column.heading === heading)?.column ?? -1

    const uses = [
      { sheet: sheet?.name ?? '', column: columnOf('GLOBALID'), use: 'mark' as const },
      { sheet: sheet?.name ?? '', column: columnOf('BLDG_UID'), use: 'building' as const },
    ]
    await takeIn(file, name, { ...noChoices, uses, level: 'Ground' })
    const frame = scheduleFrame(file.data)
    const source = Papa.parse<Record<string, string>>(
      readFileSync(path.join(openDataFolder, name), 'utf8').replace(/^\ufeff/, ''),
      { header: true, skipEmptyLines: true },
    ).data
    const counts = Map.groupBy(source, (row) => row['BLDG_UID'] ?? '')
    expect(counts.size).toBe(470)
    const buildings = new Map(frame.buildings.map((building) => [building.id as string, building.name]))
    const got = new Map(
      frame.levels
        .filter((level) => level.openings > 0)
        .map((level) => [buildings.get(level.buildingId) ?? '', level.openings]),
    )
    // One row names no building and goes to the job's first.
    expect(got).toEqual(
      new Map([...counts].map(([building, rows]) => [building || 'Main building', rows.length])),
    )
    const readers = rowsOf(file).filter(({ opening }) => opening.source?.cells['CARD_READER'] === '1')
    expect(readers).toHaveLength(source.filter((row) => row['CARD_READER'] === '1').length)
    expect(file.check().sound).toBe(true)
  })
})

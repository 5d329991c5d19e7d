// Open input files: buildingSMART community sample test files (CC BY 4.0), andrewisen/bim-whale-ifc-samples (MIT),
// buildingSMART/ifc-gherkin-rules (MIT), RWTH-E3D/DigitalHub (MIT), UBC geospatial open data (ODC PDDL 1.0).
// The expected tables were made by an independent Part 21 reader and by two spreadsheet readers that agreed.

import { IfcAPI, IFCDOOR } from 'web-ifc'
import { describe, expect, test } from 'vitest'
import { readFileBytes } from '../../../electron/intake/index.ts'
import {
  expectedFile,
  hasOpenFiles,
  modelOf,
  openFile,
  recordsOf,
  sheetNamed,
  sheetsOf,
  textsOf,
} from './support.ts'

const GRF005 = 'fail-grf005-ifc4_blank_map_conversion.ifc'

const MODELS = [
  {
    file: 'Duplex_A_20110907.ifc',
    expected: 'Duplex_A_20110907.ifc.doors.csv',
    doors: 14,
    millimetresPerUnit: 1000,
  },
  { file: 'LargeBuilding.ifc', expected: 'LargeBuilding.ifc.doors.csv', doors: 18, millimetresPerUnit: 1 },
  { file: GRF005, expected: 'grf005.ifc.doors.csv', doors: 21, millimetresPerUnit: 1 },
] as const

async function expectedDoors(name: string): Promise<Record<string, string>[]> {
  return recordsOf(
    textsOf(sheetsOf(await readFileBytes(name, expectedFile(name)))[0] ?? { name, rows: [], merges: [] }),
  )
}

describe.skipIf(!hasOpenFiles)('building models', () => {
  test.each(MODELS)('$file equals its expected table, field by field', async ({ file, expected, doors }) => {
    const model = modelOf(await readFileBytes(file, openFile(file)))
    expect(model.warnings).toEqual([])
    expect(model.doors).toHaveLength(doors)
    const read = model.doors.map((door) => {
      const identity = door.properties['PSet_Revit_Identity Data'] ?? door.properties['Identity Data'] ?? {}
      const common = door.properties['Pset_DoorCommon'] ?? {}
      const external = common['IsExternal']
      return {
        GlobalId: door.globalId,
        Name: door.name ?? '',
        Tag: door.tag ?? '',
        Revit_Mark: identity['Mark'] ?? '',
        width_mm: door.widthMillimetres,
        height_mm: door.heightMillimetres,
        storey: door.storey ?? '',
        DoorCommon_FireRating: common['FireRating'] ?? '',
        DoorCommon_IsExternal: external === undefined ? '' : external.slice(0, 1),
      }
    })
    const wanted = (await expectedDoors(expected)).map((row) => ({
      GlobalId: row['GlobalId'],
      Name: row['Name'],
      Tag: row['Tag'],
      Revit_Mark: row['Revit_Mark'],
      width_mm: Number(row['width_mm']),
      height_mm: Number(row['height_mm']),
      storey: row['storey'],
      DoorCommon_FireRating: row['DoorCommon_FireRating'],
      DoorCommon_IsExternal: row['DoorCommon_IsExternal'],
    }))
    expect(wanted).toHaveLength(doors)
    expect(read).toEqual(wanted)
  })

  test.each(MODELS)('$file: web-ifc reads the same doors', async ({ file, millimetresPerUnit }) => {
    const api = new IfcAPI()
    await api.Init()
    const opened = api.OpenModel(openFile(file))
    const ids = api.GetLineIDsWithType(opened, IFCDOOR, true)
    const text = (value: { readonly value: string } | null): string | null => value?.value ?? null
    const oracle = Array.from({ length: ids.size() }, (_, index) => {
      const door = api.GetLine(opened, ids.get(index)) as {
        readonly GlobalId: { readonly value: string }
        readonly Name: { readonly value: string } | null
        readonly Tag: { readonly value: string } | null
        readonly OverallWidth: { readonly value: number } | null
        readonly OverallHeight: { readonly value: number } | null
      }
      const size = (value: { readonly value: number } | null): number | null =>
        value === null ? null : Math.round(value.value * millimetresPerUnit * 10) / 10
      return {
        globalId: door.GlobalId.value,
        name: text(door.Name),
        tag: text(door.Tag),
        widthMillimetres: size(door.OverallWidth),
        heightMillimetres: size(door.OverallHeight),
      }
    })
    api.CloseModel(opened)
    const model = modelOf(await readFileBytes(file, openFile(file)))
    const own = model.doors.map(({ globalId, name, tag, widthMillimetres, heightMillimetres }) => ({
      globalId,
      name,
      tag,
      widthMillimetres,
      heightMillimetres,
    }))
    expect(own).toEqual(oracle)
  })

  test('rooms, operation and storeys', async () => {
    const duplex = modelOf(await readFileBytes('d.ifc', openFile('Duplex_A_20110907.ifc')))
    expect(duplex.storeys.map(({ name, elevationMetres }) => [name, elevationMetres])).toEqual([
      ['Level 1', 0],
      ['Level 2', 3.1],
      ['T/FDN', -1.25],
      ['Roof', 6],
    ])
    const door = duplex.doors.find(({ globalId }) => globalId === '1hOSvn6df7F8_7GcBWlS8Z')
    expect(door?.operation).toBe('SINGLE_SWING_LEFT')
    // The COBie workbook of the same building names these two rooms for this door.
    expect(door?.spaces.map(({ number }) => number).sort()).toEqual(['A101', 'A104'])
  })
})

const WORKBOOKS = [
  { file: '2012-03-23-Duplex-Design.xlsx', expected: 'Duplex-Design.doors.csv', doors: 14, components: 232 },
  {
    file: '2012-03-23-Duplex-Handover.xlsx',
    expected: 'Duplex-Handover.doors.csv',
    doors: 14,
    components: 232,
  },
  {
    file: '2013-10-09-Clinic-Design-v14-WORKING-01.xlsx',
    expected: 'Clinic-Design.doors.csv',
    doors: 254,
    components: 5071,
  },
] as const

const COMPONENT_FIELDS = [
  'Name',
  'TypeName',
  'Space',
  'SerialNumber',
  'TagNumber',
  'InstallationDate',
] as const

describe.skipIf(!hasOpenFiles)('workbooks', () => {
  test.each(WORKBOOKS)('$file: components and doors', async ({ file, expected, doors, components }) => {
    const start = performance.now()
    const result = await readFileBytes(file, openFile(file))
    expect(performance.now() - start).toBeLessThan(5000)
    const rows = recordsOf(textsOf(sheetNamed(result, 'Component')))
    expect(rows).toHaveLength(components)
    const wanted = await expectedDoors(expected)
    expect(wanted).toHaveLength(doors)
    // One real workbook gives a door and an X-ray machine the same ExtIdentifier: only both together are one row.
    const keyOf = (row: Record<string, string>): string => `${row['ExtIdentifier']} ${row['Name']?.trim()}`
    const byKey = new Map(rows.map((row) => [keyOf(row), row]))
    for (const door of wanted) {
      const row = byKey.get(keyOf(door))
      const read = Object.fromEntries(COMPONENT_FIELDS.map((field) => [field, row?.[field]?.trim()]))
      expect(read).toEqual({
        Name: door['Name']?.trim(),
        TypeName: door['TypeName']?.trim(),
        Space: door['Space_raw']?.trim(),
        SerialNumber: door['SerialNumber']?.trim(),
        TagNumber: door['TagNumber']?.trim(),
        InstallationDate: door['InstallationDate']?.trim(),
      })
    }
  })

  test('a used range of 1,048,558 rows is read or refused within 5 seconds', async () => {
    const start = performance.now()
    const result = await readFileBytes('hub.xlsx', openFile('DigitalHub_v1.xlsx'))
    expect(performance.now() - start).toBeLessThan(5000)
    expect(sheetsOf(result).map(({ name, rows }) => [name, rows.length])).toEqual([
      ['Architektur', 140],
      ['Heizung', 88],
      ['Lüftung', 113],
      ['Sanitär', 73],
    ])
  })

  test('1,466 real entrances', async () => {
    const result = await readFileBytes('ubcv.csv', openFile('ubcv_building_entrances_stripped.csv'))
    const rows = recordsOf(textsOf(sheetsOf(result)[0] ?? { name: '', rows: [], merges: [] }))
    expect(rows).toHaveLength(1466)
    expect(new Set(rows.map((row) => row['BLDG_UID'])).size).toBe(470)
  })
})

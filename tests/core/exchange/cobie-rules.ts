// A checker of COBie workbooks of its own: it shares nothing with what writes them.
// Rules: standards.md 12.1 [S142], COBieRules.sch of the COBie 2.4 template (USACE ERDC), construction stage: NotNull (neither
// empty nor "n/a"), NotEmpty ("n/a" will do), keys, references, times and numbers. It has no rules for Impact, Coordinate and
// Issue; their names and references are held to the same. Pick lists are checked against the workbook's own PickLists sheet.
// Headings: BSI (2020) "Medical-Dental Test Files," buildingSMART International, CC BY 4.0 (2013-10-09, COBie 2.4).
import type { PlainSheet } from '../../../core/exchange/index.ts'

const external = 'ExtSystem ExtObject ExtIdentifier'
const created = 'CreatedBy CreatedOn'
const headings: Readonly<Record<string, string>> = {
  Contact: `Email ${created} Category Company Phone ExternalSystem ExternalObject ExternalIdentifier Department OrganizationCode GivenName FamilyName Street PostalBox Town StateRegion PostalCode Country`,
  Facility: `Name ${created} Category ProjectName SiteName LinearUnits AreaUnits VolumeUnits CurrencyUnit AreaMeasurement ExternalSystem ExternalProjectObject ExternalProjectIdentifier ExternalSiteObject ExternalSiteIdentifier ExternalFacilityObject ExternalFacilityIdentifier Description ProjectDescription SiteDescription Phase`,
  Floor: `Name ${created} Category ${external} Description Elevation Height`,
  Space: `Name ${created} Category FloorName Description ${external} RoomTag UsableHeight GrossArea NetArea`,
  Zone: `Name ${created} Category SpaceNames ${external} Description`,
  Type: `Name ${created} Category Description AssetType Manufacturer ModelNumber WarrantyGuarantorParts WarrantyDurationParts WarrantyGuarantorLabor WarrantyDurationLabor WarrantyDurationUnit ${external} ReplacementCost ExpectedLife DurationUnit WarrantyDescription NominalLength NominalWidth NominalHeight ModelReference Shape Size Color Finish Grade Material Constituents Features AccessibilityPerformance CodePerformance SustainabilityPerformance`,
  Component: `Name ${created} TypeName Space Description ${external} SerialNumber InstallationDate WarrantyStartDate TagNumber BarCode AssetIdentifier`,
  System: `Name ${created} Category ComponentNames ${external} Description`,
  Assembly: `Name ${created} SheetName ParentName ChildNames AssemblyType ${external} Description`,
  Connection: `Name ${created} ConnectionType SheetName RowName1 RowName2 RealizingElement PortName1 PortName2 ${external} Description`,
  Spare: `Name ${created} Category TypeName Suppliers ${external} Description SetNumber PartNumber`,
  Resource: `Name ${created} Category ${external} Description`,
  Job: `Name ${created} Category Status TypeName Description Duration DurationUnit Start TaskStartUnit Frequency FrequencyUnit ${external} TaskNumber Priors ResourceNames`,
  Impact: `Name ${created} ImpactType ImpactStage SheetName RowName Value ImpactUnit LeadInTime Duration LeadOutTime ${external} Description`,
  Document: `Name ${created} Category ApprovalBy Stage SheetName RowName Directory File ${external} Description Reference`,
  Attribute: `Name ${created} Category SheetName RowName Value Unit ${external} Description AllowedValues`,
  Coordinate: `Name ${created} Category SheetName RowName CoordinateXAxis CoordinateYAxis CoordinateZAxis ${external} ClockwiseRotation ElevationalRotation YawRotation`,
  Issue: `Name ${created} Type Risk Chance Impact SheetName1 RowName1 SheetName2 RowName2 Description Owner Mitigation ${external}`,
  PickLists:
    'ApprovalBy AreaUnit AssetType Category-Facility Category-Space Category-Element Category-Product Category-Role CoordinateSheet ConnectionType CoordinateType DocumentType DurationUnit FloorType IssueCategory IssueChance IssueImpact IssueRisk JobStatusType JobType objAttribute objAttributeType objComponent objConnection objContact objCoordinate objDocument objFacility objFloor objIssue objJob objProject objResource objSite objSpace objSpare objSystem objType objWarranty objZone ResourceType SheetType SpareType StageType ZoneType LinearUnit VolumeUnit CostUnit AssemblyType ImpactType ImpactStage ImpactUnit objAssembly objImpact',
}
const dataSheets = Object.keys(headings).filter((name) => name !== 'PickLists')

/** Neither empty nor "n/a"; CreatedBy and CreatedOn everywhere besides. */
const notNull: Readonly<Record<string, string>> = {
  Contact: 'Email Category Company Phone',
  Facility:
    'Name Category ProjectName SiteName LinearUnits AreaUnits VolumeUnits CurrencyUnit AreaMeasurement',
  Floor: 'Name Category',
  Space: 'Name Category FloorName Description',
  Zone: 'Name Category SpaceNames',
  Type: 'Name Category AssetType Manufacturer ModelNumber WarrantyGuarantorParts WarrantyGuarantorLabor WarrantyDurationUnit DurationUnit',
  Component: 'Name TypeName Space Description InstallationDate WarrantyStartDate',
  System: 'Name Category ComponentNames',
  Assembly: 'Name SheetName ParentName ChildNames AssemblyType',
  Connection: 'Name ConnectionType SheetName RowName1 RowName2 RealizingElement PortName1 PortName2',
  Spare: 'Name Category TypeName Suppliers',
  Resource: 'Name Category',
  Job: 'Name Category Status TypeName',
  Document: 'Name Category Stage SheetName RowName Directory File',
  Attribute: 'Name Category SheetName RowName',
  Impact: 'Name SheetName RowName',
  Coordinate: 'Name SheetName RowName',
  Issue: 'Name',
}

const keys: Readonly<Record<string, string>> = {
  Contact: 'Email',
  Zone: 'Name Category SpaceNames',
  System: 'Name Category ComponentNames',
  Assembly: 'Name SheetName ParentName ChildNames',
  Connection: 'Name ConnectionType SheetName RowName1 RowName2',
  Spare: 'Name Category TypeName',
  Job: 'Name TypeName TaskNumber',
  Document: 'Name Stage SheetName RowName',
  Attribute: 'Name SheetName RowName',
  Impact: 'Name SheetName RowName',
  Coordinate: 'Name Category SheetName RowName',
}

const zeroOrMore: Readonly<Record<string, string>> = {
  Floor: 'Height',
  Space: 'UsableHeight GrossArea NetArea',
  Type: 'WarrantyDurationParts WarrantyDurationLabor ReplacementCost ExpectedLife NominalLength NominalWidth NominalHeight',
}
const anyNumber: Readonly<Record<string, string>> = { Floor: 'Elevation' }

/** Field, the sheet it refers to (or the field that names it), and whether it may hold a list. */
const references: Readonly<Record<string, readonly (readonly [field: string, to: string, list: boolean])[]>> =
  {
    Space: [['FloorName', 'Floor', false]],
    Zone: [['SpaceNames', 'Space', true]],
    Type: [
      ['Manufacturer', 'Contact', false],
      ['WarrantyGuarantorParts', 'Contact', false],
      ['WarrantyGuarantorLabor', 'Contact', false],
    ],
    Component: [
      ['TypeName', 'Type', false],
      ['Space', 'Space', true],
    ],
    System: [['ComponentNames', 'Component', true]],
    Assembly: [
      ['ParentName', '@SheetName', false],
      ['ChildNames', '@SheetName', true],
    ],
    Connection: [
      ['RowName1', '@SheetName', false],
      ['RowName2', '@SheetName', false],
    ],
    Spare: [
      ['TypeName', 'Type', false],
      ['Suppliers', 'Contact', true],
    ],
    Job: [
      ['TypeName', 'Type', false],
      ['ResourceNames', 'Resource', true],
    ],
    Impact: [['RowName', '@SheetName', false]],
    Document: [['RowName', '@SheetName', false]],
    Attribute: [['RowName', '@SheetName', false]],
    Coordinate: [['RowName', '@SheetName', false]],
    Issue: [
      ['RowName1', '@SheetName1', false],
      ['RowName2', '@SheetName2', false],
      ['Owner', 'Contact', false],
    ],
  }

const picks: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  Contact: { Category: 'Category-Role' },
  Facility: {
    Category: 'Category-Facility',
    LinearUnits: 'LinearUnit',
    AreaUnits: 'AreaUnit',
    VolumeUnits: 'VolumeUnit',
    CurrencyUnit: 'CostUnit',
  },
  Floor: { Category: 'FloorType' },
  Space: { Category: 'Category-Space' },
  Type: {
    Category: 'Category-Product',
    AssetType: 'AssetType',
    WarrantyDurationUnit: 'DurationUnit',
    DurationUnit: 'DurationUnit',
  },
  System: { Category: 'Category-Element' },
  Connection: { ConnectionType: 'ConnectionType', SheetName: 'SheetType' },
  Spare: { Category: 'SpareType' },
  Resource: { Category: 'ResourceType' },
  Job: {
    Category: 'JobType',
    Status: 'JobStatusType',
    DurationUnit: 'DurationUnit',
    TaskStartUnit: 'DurationUnit',
    FrequencyUnit: 'DurationUnit',
  },
  Document: {
    Category: 'DocumentType',
    ApprovalBy: 'ApprovalBy',
    Stage: 'StageType',
    SheetName: 'SheetType',
  },
  Attribute: { Category: 'StageType', SheetName: 'SheetType' },
  Coordinate: { Category: 'CoordinateType', SheetName: 'CoordinateSheet' },
  Issue: {
    Type: 'IssueCategory',
    Risk: 'IssueRisk',
    Chance: 'IssueChance',
    Impact: 'IssueImpact',
    SheetName1: 'SheetType',
  },
}

export type CobieRule =
  | 'sheet'
  | 'columns'
  | 'count'
  | 'not null'
  | 'not empty'
  | 'unique'
  | 'reference'
  | 'time'
  | 'number'
  | 'mail'
  | 'one space'
  | 'type without component'
  | 'pick list'

export interface CobieError {
  readonly rule: CobieRule
  readonly sheet: string
  readonly row: number | null
  readonly field: string
  readonly found: string
}

const words = (text: string | undefined): string[] => (text ?? '').split(' ').filter((word) => word !== '')
/** Keys are compared lower-case and trimmed. */
const keyText = (text: string): string => text.trim().toLowerCase()
const isNull = (text: string): boolean => ['', 'n/a'].includes(keyText(text))

interface Row {
  readonly number: number
  readonly get: (field: string) => string
}

function rowsOf(sheet: PlainSheet | undefined): Row[] {
  if (sheet === undefined) return []
  const [head, ...rows] = sheet.rows
  const places = new Map((head?.cells ?? []).map((cell, at) => [cell.text.trim(), at]))
  return rows.map((row) => ({
    number: row.number,
    get: (field) => row.cells[places.get(field) ?? -1]?.text ?? '',
  }))
}

/** Every rule a workbook breaks. */
export function checkCobie(sheets: readonly PlainSheet[]): CobieError[] {
  const errors: CobieError[] = []
  const say = (rule: CobieRule, sheet: string, row: number | null, field: string, found: string): void =>
    void errors.push({ rule, sheet, row, field, found })
  const named = new Map(sheets.map((sheet) => [sheet.name, sheet]))
  const rows = new Map(dataSheets.map((name) => [name, rowsOf(named.get(name))]))
  for (const name of ['Instruction', ...Object.keys(headings)]) {
    const sheet = named.get(name)
    if (sheet === undefined) {
      say('sheet', name, null, '', '')
      continue
    }
    if (name === 'Instruction') continue
    const wanted = words(headings[name])
    const got = (sheet.rows[0]?.cells ?? []).map((cell) => cell.text.trim()).slice(0, wanted.length)
    for (const [at, heading] of wanted.entries())
      if (got[at] !== heading) say('columns', name, 1, heading, got[at] ?? '')
  }
  for (const name of ['Contact', 'Facility', 'Floor', 'Space', 'Type', 'Component']) {
    const count = rows.get(name)?.length ?? 0
    if (count === 0 || (name === 'Facility' && count !== 1)) say('count', name, null, '', String(count))
  }

  const keyOf = (sheet: string, row: Row): string =>
    JSON.stringify(words(keys[sheet] ?? 'Name').map((field) => keyText(row.get(field))))
  const nameField = (sheet: string): string => (sheet === 'Contact' ? 'Email' : 'Name')
  const namesOf = new Map(
    [...rows].map(([name, list]) => [
      keyText(name),
      new Set(list.map((row) => keyText(row.get(nameField(name))))),
    ]),
  )
  const resolves = (to: string, text: string, list: boolean): boolean => {
    const known = namesOf.get(keyText(to))
    if (known === undefined) return false
    return known.has(keyText(text)) || (list && text.split(',').every((part) => known.has(keyText(part))))
  }
  const lists = new Map<string, Set<string>>()
  const pickRows = rowsOf(named.get('PickLists'))
  for (const list of words(headings['PickLists']))
    lists.set(list, new Set(pickRows.map((row) => keyText(row.get(list))).filter((text) => text !== '')))

  for (const [sheet, list] of rows) {
    const must = new Set([...words(notNull[sheet]), 'CreatedBy', 'CreatedOn'])
    const seen = new Map<string, number>()
    for (const row of list) {
      for (const field of words(headings[sheet])) {
        const text = row.get(field)
        if (must.has(field) ? isNull(text) : text.trim() === '')
          say(must.has(field) ? 'not null' : 'not empty', sheet, row.number, field, text)
      }
      const key = keyOf(sheet, row)
      if (seen.has(key)) say('unique', sheet, row.number, keys[sheet] ?? 'Name', row.get(nameField(sheet)))
      seen.set(key, row.number)
      if (!resolves('Contact', row.get('CreatedBy'), false))
        say('reference', sheet, row.number, 'CreatedBy', row.get('CreatedBy'))
      // xs:dateTime, with or without its zone.
      const time = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(?:\.\d+)?(?:Z|[+-]\d\d:\d\d)?$/.exec(
        row.get('CreatedOn').trim(),
      )
      const [, , month = 0, day = 0, hour = 0, minute = 0, second = 0] = (time ?? []).map(Number)
      if (
        time === null ||
        month < 1 ||
        month > 12 ||
        day < 1 ||
        day > 31 ||
        hour > 24 ||
        minute > 59 ||
        second > 59
      )
        say('time', sheet, row.number, 'CreatedOn', row.get('CreatedOn'))
      for (const [field, to, mayBeList] of references[sheet] ?? []) {
        const text = row.get(field)
        if (isNull(text)) continue
        const target = to.startsWith('@') ? row.get(to.slice(1)) : to
        if (!resolves(target, text, mayBeList)) say('reference', sheet, row.number, field, text)
      }
      for (const field of [...words(zeroOrMore[sheet]), ...words(anyNumber[sheet])]) {
        const text = row.get(field).trim()
        if (keyText(text) === 'n/a' || text === '') continue
        const value = Number(text)
        if (!Number.isFinite(value) || (value < 0 && !words(anyNumber[sheet]).includes(field)))
          say('number', sheet, row.number, field, text)
      }
      for (const [field, list] of Object.entries(picks[sheet] ?? {})) {
        const text = row.get(field)
        if (!isNull(text) && lists.get(list)?.has(keyText(text)) !== true)
          say('pick list', sheet, row.number, field, text)
      }
      if (sheet === 'Contact' && !/[^@]+@[^.]+\..+/.test(row.get('Email')))
        say('mail', sheet, row.number, 'Email', row.get('Email'))
      // Doors and windows may stand in two spaces; everything else, and what names its object, in one.
      if (sheet === 'Component' && !isNull(row.get('Space'))) {
        const whole = resolves('Space', row.get('Space'), false)
        const many = whole ? 1 : row.get('Space').split(',').length
        const object = keyText(row.get('ExtObject'))
        const most = ['ifcdoor', 'ifcwindow', 'n/a', ''].includes(object) ? 2 : 1
        if (many > most) say('one space', sheet, row.number, 'Space', row.get('Space'))
      }
    }
  }
  const used = new Set((rows.get('Component') ?? []).map((row) => keyText(row.get('TypeName'))))
  for (const row of rows.get('Type') ?? [])
    if (!used.has(keyText(row.get('Name'))))
      say('type without component', 'Type', row.number, 'Name', row.get('Name'))
  return errors
}

/** How often each rule is broken, as "rule, sheet, field". */
export function countErrors(errors: readonly CobieError[]): Record<string, number> {
  const counts: Record<string, number> = {}
  for (const { rule, sheet, field } of errors) {
    const key = `${rule}, ${sheet}, ${field}`
    counts[key] = (counts[key] ?? 0) + 1
  }
  return counts
}

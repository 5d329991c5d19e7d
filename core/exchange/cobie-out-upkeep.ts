// What the owner needs afterwards: spares, tasks, documents and what is still open.
import { dueItems, fireDoorInspectionMonths, fireDoorInspections, type DueItem } from '../handover/index.ts'
import type { JobData, Opening } from '../job/index.ts'
import { cobieTime, externalOf, type CobieBook } from './cobie-out-book.ts'
import type { CobieAssets } from './cobie-out-assets.ts'
import { cobiePickLists, ownSystem } from './cobie-out-template.ts'
import { sameKey } from './understanding.ts'

export interface CobieUpkeep {
  readonly book: CobieBook
  readonly data: JobData
  readonly assets: CobieAssets
  readonly openings: readonly Opening[]
  readonly facility: string
}

/** Spares of parts that are fitted in this building: COBie knows no type without a component. */
export function addSpares({ book, data, assets }: CobieUpkeep): void {
  for (const { id, partId, count, whereKept, notes } of data.all('spare')) {
    const type = assets.partType(partId)
    const part = data.get('part', partId)
    if (part === undefined) continue
    if (type === null) {
      book.say(
        'Spare',
        null,
        'TypeName',
        `Spare "${part.name}", TypeName: none is fitted in this building; expected a part that is.`,
      )
      continue
    }
    const said = [`${count} kept`, whereKept, notes].filter((each) => each !== null && each !== '')
    book.add('Spare', {
      Name: book.name('Spare', `Spare ${part.name}`),
      Category: 'Spare',
      TypeName: type,
      ...externalOf('IfcConstructionProductResource', null, id),
      Description: said.join('; '),
      PartNumber: part.model,
    })
  }
}

const inspector = 'Fire door inspector'
const battery = 'Battery'

/** The yearly inspections, one task for each type of door and day, for a task of COBie is about one type. */
function addInspections({ book, data, assets, openings }: CobieUpkeep): void {
  const here = new Map(openings.map((opening) => [opening.id as string, opening]))
  const rows = fireDoorInspections(data).flatMap((each) => {
    const opening = here.get(each.openingId)
    return opening === undefined ? [] : [{ ...each, type: assets.doorType(opening) }]
  })
  for (const same of Map.groupBy(rows, (each) => JSON.stringify([each.type, each.dueOn])).values()) {
    const [{ type, dueOn } = { type: null, dueOn: null }] = same
    const questions = same.flatMap((each) => each.question ?? [])
    const what = `fire doors of type ${type ?? ''}`
    book.add('Job', {
      Name: book.name('Job', dueOn === null ? `Find out about ${what}` : `Inspect ${what}`, dueOn),
      Category: 'Inspection',
      Status: 'Not Yet Started',
      TypeName: type,
      Description: [`Openings ${same.map((each) => each.mark).join(', ')}.`, ...questions].join(' '),
      Start: dueOn === null ? null : cobieTime(dueOn),
      Frequency: fireDoorInspectionMonths,
      FrequencyUnit: 'month',
      ExtSystem: ownSystem,
      ExtObject: 'IfcTask',
      TaskNumber: '1',
      ResourceNames: inspector,
    })
  }
  if (rows.length > 0)
    addResource(book, inspector, 'Labor', 'IfcLaborResource', 'Local codes say who may inspect fire doors')
}

/** The type a battery or a task is about; undefined when it is about something of another building. */
function typeOf({ data, assets }: CobieUpkeep, item: DueItem): string | null | undefined {
  const supply = data.get('supply', item.supplyId ?? '')
  const opening = data.get('opening', item.openingIds[0] ?? '')
  if (supply !== undefined)
    return assets.component(supply.id) === null ? undefined : assets.typeOfPart(supply.partId)
  if (opening !== undefined)
    return assets.component(opening.id) === null ? undefined : assets.doorType(opening)
  return assets.partType(item.partId)
}

/** The tasks of the maintenance calendar with what they need. Ends of warranties stand on the types. */
export function addJobs(upkeep: CobieUpkeep, today: string): void {
  const { book, data } = upkeep
  addInspections(upkeep)
  let batteries = false
  for (const item of dueItems(data, today)) {
    if (item.form !== 'battery' && item.form !== 'task') continue
    const type = typeOf(upkeep, item)
    if (type === undefined) continue
    batteries ||= item.form === 'battery'
    book.add('Job', {
      Name: book.name('Job', item.title),
      Category: 'PM',
      Status: 'Not Yet Started',
      TypeName: type,
      Description: [item.details, ...item.questions].filter((each) => each !== '').join(' '),
      Start: item.dueOn === null ? null : cobieTime(item.dueOn),
      Frequency: item.everyMonths,
      FrequencyUnit: item.everyMonths === null ? 'as required' : 'month',
      ...externalOf('IfcTask', null, item.key),
      TaskNumber: '1',
      ResourceNames: item.form === 'battery' ? battery : null,
    })
  }
  if (batteries)
    addResource(
      book,
      battery,
      'Material',
      'IfcConstructionProductResource',
      'Of the volts and ampere hours of its supply',
    )
}

function addResource(book: CobieBook, name: string, category: string, object: string, words: string): void {
  book.add('Resource', {
    Name: book.name('Resource', name),
    Category: category,
    ExtSystem: ownSystem,
    ExtObject: object,
    Description: words,
  })
}

/** Words of ours for kinds of documents that COBie names otherwise. */
const documentKinds: Readonly<Record<string, string>> = {
  manual: 'Operation and Maintenance',
  instructions: 'Manufacturer Instructions',
  'data sheet': 'Product Data',
  'test report': 'Test Reports',
  'test sheet': 'Test Reports',
  certificate: 'Certificates',
  warranty: 'Closeout Submittals',
}

function documentKind(form: string | null): string | null {
  const wanted = sameKey(form ?? '')
  const named = cobiePickLists.DocumentType.find((each) => sameKey(each) === wanted)
  return named ?? documentKinds[wanted] ?? null
}

/** Documents of this building and of the whole job. `folder` is where their files go, null where they are not written out. */
export function addDocuments(upkeep: CobieUpkeep, folder: string | null): void {
  const { book, data, assets, facility } = upkeep
  for (const document of data.all('document')) {
    const proof = data.get('proof', document.proofId ?? '')
    const visit = data.get('visit', document.visitId ?? '')
    const openingId = document.openingId ?? proof?.openingId ?? visit?.openingId ?? null
    const component = assets.component(document.fittingId) ?? assets.component(openingId)
    const type = assets.partType(document.partId)
    // About something of another building: it is in that workbook.
    if (component === null && type === null && (openingId !== null || document.partId !== null)) continue
    const about: readonly [string, string] =
      component !== null ? ['Component', component] : type !== null ? ['Type', type] : ['Facility', facility]
    const kept = document.sha256 !== null
    book.add('Document', {
      Name: book.name('Document', document.name),
      Category: documentKind(document.form),
      Stage: 'Submitted',
      SheetName: about[0],
      RowName: about[1],
      Directory: kept ? folder : null,
      File: kept ? document.name : null,
      ...externalOf('IfcDocumentReference', null, document.id),
      Description: [document.form, document.notes].filter((each) => each !== null).join('; '),
      Reference: document.reference,
    })
  }
}

/** What is still open at handover. How bad it is nobody said, so COBie's own word for that stands. */
export function addIssues({ book, data, assets }: CobieUpkeep): void {
  for (const finding of data.all('finding')) {
    const component = assets.component(finding.fittingId) ?? assets.component(finding.openingId)
    if (finding.state !== 'open' || component === null) continue
    const owner = [...data.all('contact')].find(
      (each) =>
        finding.owner !== null &&
        each.email !== null &&
        [each.name, each.company ?? ''].map(sameKey).includes(sameKey(finding.owner)),
    )
    book.add('Issue', {
      Name: book.name('Issue', `Finding ${component}`),
      Risk: 'Unknown',
      Chance: 'Has Occurred',
      Impact: 'Unknown',
      SheetName1: 'Component',
      RowName1: component,
      Description: finding.owner === null ? finding.words : `${finding.words} Owner: ${finding.owner}.`,
      Owner: owner?.email ?? null,
      ...externalOf('IfcApproval', null, finding.id),
    })
  }
}

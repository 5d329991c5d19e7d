// The open handover: a COBie 2.4 workbook filled from the job. It holds one building, as COBie wants.
import type { Building, JobData } from '../job/index.ts'
import { openingsInOrder } from '../handover/index.ts'
import { CobieAssets } from './cobie-out-assets.ts'
import { CobieBook, type CobieProblem, type CobieSheet } from './cobie-out-book.ts'
import { addContacts, addFacility, CobiePlaces } from './cobie-out-places.ts'
import { cobieOpenLists, cobiePickLists, cobieSheetNames } from './cobie-out-template.ts'
import { addDocuments, addIssues, addJobs, addSpares } from './cobie-out-upkeep.ts'

export type { CobieCell, CobieProblem, CobieSheet } from './cobie-out-book.ts'
export { cobieNumberColumns } from './cobie-out-template.ts'

export interface CobieOutOptions {
  /** The building; a job of several makes a workbook each. */
  readonly buildingId: string
  /** The e-mail address of who makes the workbook. It becomes a contact where it is none. */
  readonly createdBy: string
  /** When, ISO 8601 in UTC. */
  readonly createdOn: string
  /** The folder, beside the workbook, that the kept documents are written to; null where they are not. */
  readonly documentFolder: string | null
}

export interface CobieWorkbook {
  readonly sheets: readonly CobieSheet[]
  /** What COBie asks for and the job does not say; such a cell holds "n/a". */
  readonly problems: readonly CobieProblem[]
}

/** The buildings of a job in order, each of which can have its workbook. */
export const cobieBuildings = (data: JobData): Building[] =>
  [...data.all('building')].toSorted((a, b) => a.position - b.position)

/**
 * One building of the job as a COBie 2.4 workbook: every sheet and column in order, times in UTC. Openings, levels and rooms
 * that were taken in keep the identifiers they came with. Throws when the building is not of this job.
 */
export function cobieWorkbook(data: JobData, options: CobieOutOptions): CobieWorkbook {
  const building = data.get('building', options.buildingId)
  if (building === undefined) throw new Error(`no building ${options.buildingId}`)
  const isFirst = cobieBuildings(data)[0]?.id === building.id
  const openings = openingsInOrder(data).filter(
    (opening) => data.get('level', opening.levelId)?.buildingId === building.id,
  )
  const book = new CobieBook(options.createdBy, options.createdOn)
  addContacts(book, data, options.createdBy)
  const facility = addFacility(book, data, building)
  const places = new CobiePlaces(book, data, building)
  const assets = new CobieAssets(book, data, places)
  assets.addOpenings(openings)
  // What stands nowhere known is in the workbook of the first building, so that it is in one.
  const isSomewhere = (spaceId: string | null): boolean =>
    spaceId !== null && data.get('space', spaceId) !== undefined
  assets.addSupplies((spaceId) => places.has(spaceId) || (isFirst && !isSomewhere(spaceId)))
  assets.addConnections()
  const upkeep = { book, data, assets, openings, facility }
  addSpares(upkeep)
  addJobs(upkeep, options.createdOn.slice(0, 10))
  addDocuments(upkeep, options.documentFolder)
  addIssues(upkeep)
  return {
    sheets: [instruction(data), ...cobieSheetNames.map((name) => book.sheet(name)), pickLists(book)],
    problems: book.problems,
  }
}

const instruction = (data: JobData): CobieSheet => ({
  name: 'Instruction',
  headings: ['Title', 'COBie'],
  rows: [
    ['Version', '2.4'],
    ['Status', 'IFC2x3'],
    ['Region', 'en-US'],
    ['Purpose', `Handover of the openings of ${data.job.name}`],
    ['Times', 'All times are UTC.'],
    ['n/a', 'Not known, or nothing to say.'],
    ['Caution', 'Local codes and the authority having jurisdiction decide what each opening must do.'],
  ],
})

function pickLists(book: CobieBook): CobieSheet {
  const chosen = new Map<string, readonly string[]>(cobieOpenLists.map((list) => [list, book.used(list)]))
  const lists = Object.entries(cobiePickLists).map(([name, values]) => ({
    name,
    values: chosen.get(name) ?? values,
  }))
  const longest = Math.max(...lists.map(({ values }) => values.length))
  return {
    name: 'PickLists',
    headings: lists.map(({ name }) => name),
    rows: Array.from({ length: longest }, (_, row) => lists.map(({ values }) => values[row] ?? '')),
  }
}

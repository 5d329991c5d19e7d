// Runs, conductors, controllers, points and their loops.
import {
  done,
  refused,
  type Answer,
  type Handlers,
  type MadeFile,
  type runsContract,
  type StartToChoose,
} from '../../core/contract/index.ts'
import {
  cableLabels,
  cableList,
  cableTable,
  conductorTable,
  labelStocks,
  pointList,
  pointTable,
  quantityList,
  quantityTable,
} from '../../core/documents/index.ts'
import type { JobData } from '../../core/job/index.ts'
import {
  addRuns,
  cableKindsOf,
  controllersInShort,
  endName,
  fillLengths,
  pointsOfController,
  pointsOfOpening,
  quantities,
  routeTable,
  runPage,
  runRows,
  runsAtOpening,
  runsInOrder,
  sourcesOf,
  tagsToWire,
  typeRuns,
  wirePoint,
  wiringFindings,
} from '../../core/runs/index.ts'
import { writeCsv, writeWorkbook } from '../intake/index.ts'
import { pressLabels } from '../press.ts'
import { noJob, withFile, type Desk } from './desk.ts'
import { made, plainName, pressed, sheetSize, workbookType } from './made-files.ts'

export const runsCalls = (desk: Desk): Handlers<typeof runsContract> => ({
  'runs.read': () =>
    withFile(desk, ({ data }) => {
      const { fillable, without } = fillLengths(data)
      return done({
        rows: runRows(data),
        kinds: cableKindsOf(data).map(({ name }) => name),
        sources: sourcesOf(data),
        findings: wiringFindings(data),
        fillable,
        withoutRoute: without,
      })
    }),
  'runs.run': ({ runId }) => withFile(desk, ({ data }) => done({ page: runPage(data, runId) })),
  'runs.type': ({ cells, how, unreadable }) =>
    withFile(desk, ({ data }) => done(typeRuns(data, cells, how, unreadable))),
  'runs.starts': () => withFile(desk, ({ data }) => done({ starts: startsIn(data) })),
  'runs.tags': ({ openingIds, start }) =>
    withFile(desk, ({ data }) => done({ tags: tagsToWire(data, openingIds, start) })),
  'runs.add': (wanted) => withFile(desk, ({ data }) => done({ command: addRuns(data, wanted) })),
  'runs.fill': () => withFile(desk, ({ data }) => done({ command: fillLengths(data).command })),
  'runs.controllers': () =>
    withFile(desk, ({ data }) =>
      done({
        controllers: controllersInShort(data),
        findings: wiringFindings(data).filter(({ controllerId }) => controllerId !== null),
      }),
    ),
  'runs.points': ({ controllerId }) =>
    withFile(desk, ({ data }) =>
      data.get('controller', controllerId) === undefined
        ? done({ points: [] })
        : done({ points: pointsOfController(data, controllerId) }),
    ),
  'runs.wirePoint': ({ pointId, text }) =>
    withFile(desk, ({ data }) => {
      const wired = wirePoint(data, pointId, text)
      return wired.ok ? done({ command: wired.command }) : refused('not-possible', wired.sentence)
    }),
  'runs.cables': () =>
    withFile(desk, ({ data }) =>
      done({ kinds: cableKindsOf(data), routes: routeTable(data), quantities: quantities(data) }),
    ),
  'runs.opening': ({ openingId }) =>
    withFile(desk, ({ data }) =>
      data.get('opening', openingId) === undefined
        ? refused('gone', 'That opening is no longer in this job.')
        : done({ runs: runsAtOpening(data, openingId), points: pointsOfOpening(data, openingId) }),
    ),
  'print.runs': async (asked) => {
    const { file } = desk
    if (file === null) return noJob()
    const { data } = file
    const document =
      asked.list === 'cables'
        ? cableList(data, asked.by)
        : asked.list === 'points'
          ? pointList(data, asked.controllerId)
          : quantityList(data)
    return pressed(document, {
      name: `${data.job.name} - ${document.facts.title.toLowerCase()}`,
      pageSize: sheetSize(data.job),
      createdAt: desk.options.now(),
      ...(asked.list === 'quantities' ? { orientation: 'portrait' as const } : {}),
    })
  },
  'print.cableLabels': async ({ runIds, stock, startAt }) => {
    const { file } = desk
    if (file === null) return noJob()
    return printLabels(file.data, { runIds, stock, startAt }, desk.options.now())
  },
  'export.runs': async ({ list, form }) => {
    const { file } = desk
    if (file === null) return noJob()
    return done(await exportList(file.data, list, form))
  },
})

/** Outputs by supply, then controllers, in their order. */
function startsIn(data: JobData): StartToChoose[] {
  return sourcesOf(data).flatMap(({ form, id, mark }): StartToChoose[] =>
    form === 'controller'
      ? [{ at: 'controller', id, name: mark }]
      : data
          .referring('output', 'supplyId', id)
          .toSorted((one, other) => one.position - other.position)
          .map((output) => ({
            at: 'output',
            id: output.id as string,
            name: endName(data, { at: 'output', id: output.id }),
          })),
  )
}

async function printLabels(
  data: JobData,
  wanted: { readonly runIds: readonly string[]; readonly stock: string; readonly startAt: number },
  createdAt: string,
): Promise<Answer<MadeFile>> {
  const stock = labelStocks.find(({ key }) => key === wanted.stock)
  const labels = cableLabels(
    data,
    wanted.runIds.length === 0 ? runsInOrder(data).map(({ id }) => id) : wanted.runIds,
  )
  if (stock === undefined || labels.length === 0) return refused('nothing', 'There are no runs to label yet.')
  const title = 'Labels for cable ends'
  const result = await pressLabels(
    { title, jobName: data.job.name, stock, startAt: wanted.startAt, labels },
    { createdAt },
  )
  if (!result.ok) return refused(result.problem.code, result.problem.sentence)
  return done(
    made(
      `${plainName(`${data.job.name} - cable labels`)}.pdf`,
      'application/pdf',
      result.bytes ?? new Uint8Array(),
      { pages: result.pages, warnings: result.warnings },
    ),
  )
}

const tables = {
  cables: cableTable,
  conductors: conductorTable,
  points: pointTable,
  quantities: quantityTable,
} as const

async function exportList(data: JobData, list: keyof typeof tables, form: 'xlsx' | 'csv'): Promise<MadeFile> {
  const table = tables[list](data)
  const name = plainName(`${data.job.name} - ${table.name.toLowerCase()}`)
  if (form === 'csv') return made(`${name}.csv`, 'text/csv', writeCsv(table))
  const sheet = { ...table, titles: [`${data.job.name}: ${table.name.toLowerCase()}`], frozenColumns: 1 }
  return made(`${name}.xlsx`, workbookType, await writeWorkbook([sheet]))
}

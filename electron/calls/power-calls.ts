// Volts, loading, batteries and what would put them right.
import {
  done,
  refused,
  type Answer,
  type Handlers,
  type MadeFile,
  type powerContract,
} from '../../core/contract/index.ts'
import {
  batterySheet,
  joinedSheets,
  powerSheet,
  powerTables,
  riserSheet,
  riserInputs,
} from '../../core/documents/index.ts'
import {
  networkFeeds,
  outputPage,
  powerOfSupply,
  powerOverview,
  supplyPage,
  workingLines,
} from '../../core/power/index.ts'
import { writeCsv, writeWorkbook } from '../intake/index.ts'
import type { JobFile } from '../store/index.ts'
import { noJob, withFile, type Desk } from './desk.ts'
import { made, plainName, pressed, sheetSize, workbookType } from './made-files.ts'

const noSupply = () => refused('gone', 'That supply is no longer in this job.')

export const powerCalls = (desk: Desk): Handlers<typeof powerContract> => ({
  'power.read': () =>
    withFile(desk, ({ data }) => {
      const job = desk.power.read(data)
      return done({ overview: powerOverview(data, job), network: networkFeeds(data, job) })
    }),
  'power.supply': ({ supplyId }) =>
    withFile(desk, ({ data }) => {
      const power = powerOfSupply(desk.power.read(data), supplyId)
      const page = power === null ? null : supplyPage(data, power)
      return page === null ? noSupply() : done(page)
    }),
  'power.output': ({ outputId }) =>
    withFile(desk, ({ data }) => {
      const page = outputPage(data, desk.power.read(data), outputId)
      return page === null ? refused('gone', 'That output is no longer in this job.') : done(page)
    }),
  'power.working': ({ outputId, load, scenario }) =>
    withFile(desk, ({ data }) =>
      done({ lines: workingLines(desk.power.read(data), outputId, load, scenario, data.job.units) }),
    ),
  'power.feeds': ({ after }) => withFile(desk, ({ data }) => done(desk.power.feeds(data, after))),
  'power.opening': ({ openingId }) =>
    withFile(desk, ({ data }) => {
      const opening = data.get('opening', openingId)
      return opening === undefined
        ? refused('gone', 'That opening is no longer in this job.')
        : done(desk.power.feedOf(data, opening))
    }),
  'print.power': async (asked) => {
    const { file } = desk
    if (file === null) return noJob()
    switch (asked.what) {
      case 'supplies':
        return printSupplies(desk, file, asked.supplyIds)
      case 'batteries':
        return printBatteries(desk, file)
      case 'risers':
        return printRisers(desk, file)
    }
  },
  'export.power': async ({ form }) => {
    const { file } = desk
    if (file === null) return noJob()
    const { data } = file
    const job = desk.power.read(data)
    const { supplies, outputs, devices } = powerTables(data, job)
    const name = `${plainName(data.job.name)} - power`
    return done(
      form === 'csv'
        ? made(`${name}.csv`, 'text/csv', Buffer.from(writeCsv(devices)))
        : made(`${name}.xlsx`, workbookType, await writeWorkbook([supplies, outputs, devices])),
    )
  },
})

const nothing = () => refused('nothing-to-print', 'This job has no supply yet; add one first.')

async function printSupplies(
  desk: Desk,
  { data }: JobFile,
  supplyIds: readonly string[] | null,
): Promise<Answer<MadeFile>> {
  const job = desk.power.read(data)
  const wanted = job.supplies.filter(({ supply }) => supplyIds === null || supplyIds.includes(supply.id))
  const sheets = wanted.flatMap((power) => powerSheet(data, job, power) ?? [])
  const document = joinedSheets(sheets, 'Power sheets')
  if (document === null) return supplyIds === null ? nothing() : noSupply()
  const [only] = wanted
  const what = wanted.length === 1 ? `power sheet ${only?.supply.name ?? ''}` : 'power sheets'
  return pressed(document, {
    name: `${data.job.name} - ${what}`,
    pageSize: sheetSize(data.job),
    createdAt: desk.options.now(),
  })
}

async function printBatteries(desk: Desk, { data }: JobFile): Promise<Answer<MadeFile>> {
  const job = desk.power.read(data)
  if (job.supplies.length === 0) return nothing()
  return pressed(batterySheet(data, job), {
    name: `${data.job.name} - battery sheet`,
    pageSize: sheetSize(data.job),
    createdAt: desk.options.now(),
  })
}

async function printRisers(desk: Desk, { data }: JobFile): Promise<Answer<MadeFile>> {
  const document = joinedSheets(
    riserInputs(data, desk.power.read(data)).map((each) => riserSheet(data.job, each)),
    'Riser diagrams',
  )
  if (document === null) return nothing()
  return pressed(document, {
    name: `${data.job.name} - riser diagram`,
    pageSize: data.job.units === 'imperial' ? 'tabloid' : 'a3',
    createdAt: desk.options.now(),
  })
}

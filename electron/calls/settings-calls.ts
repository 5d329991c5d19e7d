// Settings as designed, as set and as found.
import type { Review } from '../../core/cautions/index.ts'
import {
  done,
  refused,
  type Answer,
  type Handlers,
  type MadeFile,
  type settingsContract,
} from '../../core/contract/index.ts'
import {
  benchDocument,
  joinedSheets,
  settingConsequences,
  settingDocument,
} from '../../core/documents/index.ts'
import type { JobData } from '../../core/job/index.ts'
import { scheduleRow } from '../../core/schedule/index.ts'
import {
  benchBatches,
  findingsOfFittings,
  partBook,
  settingFindings,
  settingSheet,
  settingsOf,
} from '../../core/settings/index.ts'
import type { JobFile } from '../store/index.ts'
import { noJob, withFile, type Desk } from './desk.ts'
import { pressed, sheetSize } from './made-files.ts'
import { openingsAsked } from './openings-asked.ts'

export const settingsCalls = (desk: Desk): Handlers<typeof settingsContract> => ({
  'settings.read': ({ levelId }) =>
    withFile(desk, ({ data }) => {
      const batches = benchBatches(data, openingsAsked(data, { levelId }))
      const findings = settingFindings(data).filter(
        ({ openingId }) =>
          levelId === null || (openingId !== null && data.get('opening', openingId)?.levelId === levelId),
      )
      const differing = new Set(findings.flatMap(({ openingId }) => openingId ?? []))
      return done({
        batches: batches.map(({ fittings, ...rest }) => ({ ...rest, fittingCount: fittings.length })),
        findings,
        consequences: [...differing].flatMap((openingId) => {
          const sentences = consequencesOf(desk, data, openingId)
          return sentences.length === 0 ? [] : [{ openingId, sentences }]
        }),
      })
    }),
  'settings.batch': ({ levelId, key }) =>
    withFile(desk, ({ data }) => {
      const batches = benchBatches(data, openingsAsked(data, { levelId }))
      return done({ batch: batches.find((each) => each.key === key) ?? null })
    }),
  'settings.opening': ({ openingId }) =>
    withFile(desk, ({ data }) => {
      if (data.get('opening', openingId) === undefined)
        return refused('gone', 'That opening is no longer in this job.')
      const fittings = settingsOf(data, { openingId })
      return done({
        fittings,
        findings: findingsOfFittings(data, fittings),
        consequences: consequencesOf(desk, data, openingId),
      })
    }),
  'print.settings': async (asked) => {
    const { file } = desk
    if (file === null) return noJob()
    return 'openingIds' in asked
      ? printSheets(file, asked.openingIds, desk.options.now())
      : printBench(file, asked.benchOfLevelId, desk.options.now())
  },
})

/** What the settings as they stand change against those designed. */
function consequencesOf(desk: Desk, data: JobData, openingId: string): readonly string[] {
  const opening = data.get('opening', openingId)
  if (opening === undefined) return []
  const resultsOf = ({ behaviour }: Review) => behaviour?.results ?? []
  return settingConsequences(
    resultsOf(desk.behaviour.review(data, opening)),
    resultsOf(desk.behaviour.reviewAsItStands(data, opening)),
  )
}

async function printSheets(
  file: JobFile,
  openingIds: readonly string[],
  createdAt: string,
): Promise<Answer<MadeFile>> {
  const { data } = file
  const book = partBook(data)
  const sheets = openingIds.flatMap((openingId) => {
    const opening = data.get('opening', openingId)
    const sheet = settingSheet(data, openingId, book)
    return opening === undefined || sheet === null
      ? []
      : [settingDocument(data.job, sheet, scheduleRow(data, opening).where)]
  })
  const document = joinedSheets(sheets, 'Setting sheets')
  if (document === null) return refused('gone', 'Those openings are no longer in this job.')
  return pressed(document, {
    name: `${data.job.name} - ${document.facts.title.toLowerCase()}`,
    pageSize: sheetSize(data.job),
    createdAt,
  })
}

async function printBench(
  file: JobFile,
  levelId: string | null,
  createdAt: string,
): Promise<Answer<MadeFile>> {
  const { data } = file
  const level = levelId === null ? null : data.get('level', levelId)
  if (level === undefined) return refused('gone', 'That level is no longer in this job.')
  const batches = benchBatches(data, openingsAsked(data, { levelId }))
  return pressed(benchDocument(data.job, batches, level?.name ?? 'All levels'), {
    name: `${data.job.name} - bench sheet`,
    pageSize: sheetSize(data.job),
    createdAt,
  })
}

// What leaves the program: the schedule on paper and as a workbook, and the whole job as text.
import {
  done,
  type Answer,
  type Handlers,
  type JobState,
  type LintelbookContract,
  type MadeFile,
} from '../../core/contract/index.ts'
import { issueWords, printedSchedule } from '../../core/documents/index.ts'
import {
  arrangeRows,
  choiceWords,
  scheduleColumn,
  scheduleFrame,
  scheduleRows,
  type Arrangement,
  type ColumnKey,
  type RowGroup,
  type ScheduleFrame,
} from '../../core/schedule/index.ts'
import { writeCsv, writeWorkbook, type SheetToWrite } from '../intake/index.ts'
import { makeJobFromTwin, writeJobAsTwin, type JobFile } from '../store/index.ts'
import { fromStore, noJob, openAt, storeOptions, withFile, type Desk } from './desk.ts'
import { placeForJob } from './job-calls.ts'
import { made, plainName, pressed, workbookType } from './made-files.ts'

type PaperCalls = Pick<
  Handlers<LintelbookContract>,
  'print.schedule' | 'export.schedule' | 'twin.write' | 'twin.read'
>

export const paperCalls = (desk: Desk): PaperCalls => ({
  'print.schedule': async ({ pageSize, arrangement, columns }) => {
    const { file } = desk
    if (file === null) return noJob()
    return printSchedule(file, { pageSize, arrangement, columns, createdAt: desk.options.now() })
  },
  'export.schedule': async ({ form, arrangement, columns }) => {
    const { file } = desk
    if (file === null) return noJob()
    return done(await exportSchedule(file, { form, arrangement, columns }))
  },
  'twin.write': () =>
    withFile(desk, (file) =>
      done(
        made(`${plainName(file.data.job.name)}.json`, 'application/json', Buffer.from(writeJobAsTwin(file))),
      ),
    ),
  'twin.read': ({ fileName, base64 }) => readTwin(desk, fileName, base64),
})

export interface SchedulePaper {
  readonly pageSize: 'letter' | 'tabloid' | 'a4' | 'a3'
  readonly arrangement: Arrangement
  readonly columns: readonly ColumnKey[]
  readonly createdAt: string
}

function arranged(
  file: JobFile,
  arrangement: Arrangement,
): { frame: ScheduleFrame; groups: readonly RowGroup[] } {
  const frame = scheduleFrame(file.data)
  return { frame, groups: arrangeRows(scheduleRows(file.data), frame, arrangement) }
}

/** The opening schedule as PDF. */
export async function printSchedule(file: JobFile, paper: SchedulePaper): Promise<Answer<MadeFile>> {
  const { frame, groups } = arranged(file, paper.arrangement)
  const document = printedSchedule({
    frame,
    groups,
    columns: paper.columns,
    choice: choiceWords(frame, paper.arrangement),
  })
  return pressed(document, {
    name: `${file.data.job.name} - opening schedule`,
    pageSize: paper.pageSize,
    createdAt: paper.createdAt,
  })
}

const pixelsPerCharacter = 7

/** The opening schedule for a spreadsheet, one sheet, grouped rows one after another with their building and level. */
export async function exportSchedule(
  file: JobFile,
  wanted: {
    readonly form: 'xlsx' | 'csv'
    readonly arrangement: Arrangement
    readonly columns: readonly ColumnKey[]
  },
): Promise<MadeFile> {
  const { frame, groups } = arranged(file, wanted.arrangement)
  const context = { units: frame.job.units, frame }
  const keys = [...new Set<ColumnKey>(['building', 'level', ...wanted.columns])]
  const sheet: SheetToWrite = {
    name: 'Opening schedule',
    titles: [
      `${frame.job.name}: opening schedule`,
      [issueWords(frame.job.scheduleIssue), frame.job.scheduleDate, choiceWords(frame, wanted.arrangement)]
        .filter((each) => each !== null)
        .join(', '),
    ].filter((each) => each !== ''),
    columns: keys.map((key) => {
      const { heading, width } = scheduleColumn(key)
      return {
        heading,
        width: Math.max(heading.length + 2, Math.round(width / pixelsPerCharacter)),
        form: 'text',
      }
    }),
    rows: groups.flatMap((group) =>
      group.rows.map((row) => keys.map((key) => scheduleColumn(key).text(row, context) || null)),
    ),
    frozenColumns: keys.indexOf('mark') + 1,
    landscape: true,
  }
  const name = `${plainName(frame.job.name)} - opening schedule`
  return wanted.form === 'csv'
    ? made(`${name}.csv`, 'text/csv', Buffer.from(writeCsv(sheet)))
    : made(`${name}.xlsx`, workbookType, await writeWorkbook([sheet]))
}

function readTwin(desk: Desk, fileName: string, base64: string): Answer<JobState> {
  const place = placeForJob(desk, fileName.replace(/\.json$/i, ''))
  if (!place.ok) return place
  const read = makeJobFromTwin(
    place.value,
    Buffer.from(base64, 'base64').toString('utf8'),
    storeOptions(desk),
  )
  if (!read.ok) return fromStore(read)
  read.file.close()
  return openAt(desk, place.value, false)
}

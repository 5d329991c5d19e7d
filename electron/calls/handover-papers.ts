// What goes out beside the binder: the open workbooks, the calendar, what was worked out, and labels.
import { done, refused, type Answer, type MadeFile, type ProblemGroup } from '../../core/contract/index.ts'
import { resultsText } from '../../core/comparing/index.ts'
import {
  labelFormWords,
  labelsOf,
  labelsTitle,
  labelStocks,
  type LabelForm,
} from '../../core/documents/index.ts'
import { cobieBuildings, cobieWorkbook, type CobieProblem } from '../../core/exchange/index.ts'
import { calendarText, dueItems } from '../../core/handover/index.ts'
import type { JobData } from '../../core/job/index.ts'
import { writeCobieWorkbook } from '../intake/index.ts'
import { pressLabels } from '../press.ts'
import type { JobFile } from '../store/index.ts'
import type { WorkedOutJob } from './handover-desk.ts'
import { made, plainName, workbookType } from './made-files.ts'

const isMail = (text: string | null): text is string =>
  text !== null && /^[^@\s]+@[^@\s]+\.[^@\s]+$/.test(text.trim())

/** By whose address the workbook names who made it: this person's, else that of who prepares the job, else the first kept. */
export function makerAddress(data: JobData, who: string): string | null {
  const contacts = [...data.all('contact')].filter(({ email }) => isMail(email))
  const wanted = [who, data.job.preparedBy ?? ''].map((each) => each.toLowerCase())
  const same = contacts.find(({ name }) => wanted.some((each) => each.includes(name.trim().toLowerCase())))
  return (same ?? contacts[0])?.email?.trim() ?? null
}

export interface Workbooks {
  readonly files: readonly {
    readonly fileName: string
    readonly bytes: Uint8Array
    readonly building: string
  }[]
  readonly problems: readonly ProblemGroup[]
}

/** One workbook for each building; null where nobody has an e-mail address. */
export async function workbooksOf(data: JobData, who: string, now: string): Promise<Workbooks | null> {
  const createdBy = makerAddress(data, who)
  if (createdBy === null) return null
  const buildings = cobieBuildings(data)
  const files: Workbooks['files'][number][] = []
  const problems: CobieProblem[] = []
  for (const { id, name } of buildings) {
    const workbook = cobieWorkbook(data, { buildingId: id, createdBy, createdOn: now, documentFolder: null })
    problems.push(...workbook.problems)
    const which = buildings.length === 1 ? '' : ` - ${plainName(name)}`
    files.push({
      fileName: `${plainName(data.job.name)}${which} - COBie.xlsx`,
      bytes: await writeCobieWorkbook(workbook, new Date(now)),
      building: name,
    })
  }
  return { files, problems: problemGroups(problems) }
}

/** Thousands of sentences help nobody: how many of which field, the most first, with one in full. */
export function problemGroups(problems: readonly CobieProblem[]): ProblemGroup[] {
  return [...Map.groupBy(problems, ({ sheet, field }) => `${sheet}\n${field}`).values()]
    .flatMap((same) => {
      const [first] = same
      return first === undefined
        ? []
        : [{ sheet: first.sheet, field: first.field, count: same.length, example: first.sentence }]
    })
    .toSorted((one, other) => other.count - one.count)
}

export async function handWorkbooks(
  file: JobFile,
  who: string,
  now: string,
): Promise<Answer<{ files: readonly MadeFile[]; problems: readonly ProblemGroup[] }>> {
  const workbooks = await workbooksOf(file.data, who, now)
  if (workbooks === null)
    return refused(
      'no-address',
      'No contact of this job has an e-mail address; the open workbook names who made it by one. Add it under Job.',
    )
  return done({
    files: workbooks.files.map(({ fileName, bytes }) => made(fileName, workbookType, bytes)),
    problems: workbooks.problems,
  })
}

export const calendarType = 'text/calendar'

export const calendarOf = (data: JobData, now: string): string =>
  calendarText(dueItems(data, now.slice(0, 10)), {
    jobId: data.job.id,
    name: `${data.job.name}: doors`,
    now,
  })

/** What the engines made of the job, as JSON. */
export const resultsOf = (worked: WorkedOutJob, name: string, at: string): string =>
  resultsText(
    worked.data,
    worked.openings(),
    (opening) => {
      const { behaviour, cautions } = worked.review(opening)
      const { proved, lines } = worked.proving.proofOf(opening)
      return {
        behaviour,
        cautions,
        proved,
        steps: lines.map(({ step, state, last }) => ({
          step: step.key,
          does: step.does,
          expected: step.expected,
          state,
          reading: last?.reading ?? null,
          unit: last?.unit ?? null,
          who: last?.who ?? null,
          at: last?.at ?? null,
        })),
      }
    },
    worked.supplies(),
    { name, at },
  )

export async function printLabels(
  { data }: JobFile,
  asked: {
    readonly form: LabelForm
    readonly stock: string
    readonly startAt: number
    readonly of: { readonly levelId: string | null } | { readonly openingIds: readonly string[] }
  },
  createdAt: string,
): Promise<Answer<MadeFile>> {
  const stock = labelStocks.find(({ key }) => key === asked.stock)
  if (stock === undefined) return refused('no-stock', 'That sheet of labels is not known here.')
  if (asked.startAt > stock.columns * stock.rows)
    return refused(
      'no-such-label',
      `A sheet of ${stock.name} has ${stock.columns * stock.rows} labels; expected a first label from 1 to ${stock.columns * stock.rows}.`,
    )
  const { of } = asked
  const openings =
    'openingIds' in of
      ? of.openingIds.flatMap((id) => data.get('opening', id) ?? [])
      : of.levelId === null
        ? [...data.all('opening')]
        : data.referring('opening', 'levelId', of.levelId)
  const labels = labelsOf(data, asked.form, openings)
  if (labels.length === 0) return refused('nothing-to-print', 'Nothing there takes a label of this kind.')
  const pressed = await pressLabels(
    {
      title: labelsTitle(data.job, asked.form),
      jobName: data.job.name,
      stock,
      startAt: asked.startAt,
      labels,
    },
    { createdAt },
  )
  if (!pressed.ok) return refused(pressed.problem.code, pressed.problem.sentence)
  const name = `${plainName(data.job.name)} - ${labelFormWords[asked.form].split(',')[0]?.toLowerCase() ?? 'labels'}.pdf`
  return done(
    made(name, 'application/pdf', pressed.bytes ?? new Uint8Array(), {
      pages: pressed.pages,
      warnings: [
        ...pressed.warnings,
        ...pressed.missingCharacters.map(
          (each) => `No font here has the character ${each.character}; it was printed as “?”.`,
        ),
      ],
    }),
  )
}

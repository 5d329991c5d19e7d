// A document of a job: its facts, its head, and who decides, the same on every sheet.
import type { Job } from '../job/index.ts'
import type { Block, DocumentBlocks, TableColumn } from './blocks.ts'
import { issueWords } from './issue-words.ts'
import { dayWords } from './schedule-from-rows.ts'
import { whoDecides } from './schedule-document.ts'

export interface SheetOfJob {
  readonly job: Job
  readonly title: string
  /** Under the title: the opening, the level, the supply. */
  readonly lines: readonly string[]
  readonly facts?: readonly { readonly name: string; readonly text: string }[]
  readonly blocks: readonly Block[]
  /** At the foot of every page; left out, who decides. */
  readonly pageNote?: string
}

/** A sheet with its title, the job's own facts and a note at the foot of every page. */
export function sheetOfJob({ job, title, lines, facts = [], blocks, pageNote }: SheetOfJob): DocumentBlocks {
  const issueName = issueWords(job.scheduleIssue)
  const dateText = job.scheduleDate === null ? null : dayWords(job.scheduleDate, job.dateForm)
  const ofJob = [
    { name: 'Job', text: job.number === null ? job.name : `${job.name}, ${job.number}` },
    { name: 'Issue', text: issueName },
    { name: 'Date', text: dateText },
    { name: 'Prepared by', text: job.preparedBy },
  ].flatMap(({ name, text }) => (text === null || text.trim() === '' ? [] : [{ name, text }]))
  return {
    facts: {
      title,
      jobName: job.name,
      jobNumber: job.number,
      client: job.client,
      address: job.address,
      preparedBy: job.preparedBy,
      issueName,
      dateText,
      pageNote: pageNote ?? whoDecides,
    },
    blocks: [{ form: 'title', title, lines, facts: [...facts, ...ofJob] }, ...blocks],
  }
}

/** A column of a sheet's table; those with more weight take the room that is left over. */
export const sheetColumn = (
  key: string,
  heading: string,
  widthWeight = 0,
  rest: Partial<Pick<TableColumn, 'align' | 'unit' | 'priority'>> = {},
): TableColumn => ({ key, heading, unit: null, widthWeight, align: 'left', priority: 0, ...rest })

/** Sheets printed together, each from the top of a page, under one title. Null where there are none. */
export function joinedSheets(sheets: readonly DocumentBlocks[], title: string): DocumentBlocks | null {
  const [first] = sheets
  if (first === undefined) return null
  return {
    facts: sheets.length === 1 ? first.facts : { ...first.facts, title },
    blocks: sheets.flatMap(({ blocks }) =>
      blocks.map((block) => (block.form === 'title' ? { ...block, startsPage: true } : block)),
    ),
  }
}

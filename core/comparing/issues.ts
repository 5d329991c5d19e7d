// Sealed issues as records: the next name, what the last one was, and the one change that keeps a new one.
import type { JobData, JobRecord } from '../job/index.ts'
import type { Command } from '../schedule/index.ts'

export type IssueForm = JobRecord<'issue'>['form']
export const issueFormWords: Readonly<Record<IssueForm, string>> = {
  schedule: 'Schedule issue',
  handover: 'Handover issue',
}

/** Issues in the order they were made. */
export const issuesInOrder = (data: JobData): JobRecord<'issue'>[] =>
  [...data.all('issue')].toSorted(
    (one, other) => one.position - other.position || ((one.at ?? '') < (other.at ?? '') ? -1 : 1),
  )

/** The last issue whose state was kept, so that the job can be compared with it. */
export const lastSealed = (data: JobData): JobRecord<'issue'> | null =>
  issuesInOrder(data).findLast(({ twinSha256 }) => twinSha256 !== null) ?? null

/** "Handover issue 1": the first number that no issue of its form bears. */
export function nextIssueName(data: JobData, form: IssueForm): string {
  const taken = new Set(Array.from(data.all('issue'), ({ name }) => name.trim().toLowerCase()))
  const words = issueFormWords[form]
  for (let number = 1; ; number += 1)
    if (!taken.has(`${words} ${number}`.toLowerCase())) return `${words} ${number}`
}

/**
 * Hashes of what went out with earlier issues. A twin that is bound into a new issue leaves these bytes out, or each issue
 * would carry all that went before; bytes that a document of the job refers to as well stay.
 */
export function keptOfIssues(data: JobData): ReadonlySet<string> {
  const found = new Set<string>()
  for (const { sha256 } of data.all('issueDocument')) found.add(sha256)
  for (const { twinSha256 } of data.all('issue')) if (twinSha256 !== null) found.add(twinSha256)
  for (const { sha256 } of data.all('document')) if (sha256 !== null) found.delete(sha256)
  return found
}

export interface IssueFile {
  readonly name: string
  readonly mediaType: string
  readonly sha256: string
  readonly byteCount: number
}

export interface IssueToKeep {
  readonly form: IssueForm
  readonly name: string
  readonly at: string
  readonly notes: string | null
  readonly twinSha256: string
  readonly files: readonly IssueFile[]
}

/** One change: the issue with its documents. Their bytes must be kept already. */
export function sealCommand(data: JobData, issue: IssueToKeep): Extract<Command, { does: 'change records' }> {
  const { form, name, at, notes, twinSha256, files } = issue
  const position = issuesInOrder(data).reduce((next, each) => Math.max(next, each.position + 1), 0)
  return {
    does: 'change records',
    name: `Seal ${name}`,
    add: [
      {
        kind: 'issue',
        record: {
          id: 'new:issue',
          form,
          name,
          position,
          who: { stamped: 'who' },
          at,
          twinSha256,
          notes,
        },
      },
      ...files.map((file, index) => ({
        kind: 'issueDocument' as const,
        record: { id: `new:issue document ${index}`, issueId: 'new:issue', position: index, ...file },
      })),
    ],
    set: [],
    remove: [],
  }
}

// Issues, the binder, labels and the open workbook.
import { issuesInOrder, lastSealed, nextIssueName } from '../../core/comparing/index.ts'
import {
  done,
  refused,
  type Answer,
  type ChangeOutcome,
  type handoverContract,
  type HandoverRead,
  type Handlers,
  type KeptDocument,
  type MadeFile,
} from '../../core/contract/index.ts'
import { dueItems, partQuantities, standingLines } from '../../core/handover/index.ts'
import type { JobData, JobRecord } from '../../core/job/index.ts'
import type { JobFile } from '../store/index.ts'
import { carryOut } from './change-calls.ts'
import { fromStore, noJob, withFile, type Desk } from './desk.ts'
import { differenceOf } from './handover-book.ts'
import { handoverDesk, sealedState, standingFacts, workOut } from './handover-desk.ts'
import { calendarOf, calendarType, handWorkbooks, printLabels } from './handover-papers.ts'
import { fileOfWork, progressOfWork, startWork, stopWork, workUnderWay } from './handover-work.ts'
import { made, plainName } from './made-files.ts'

export const handoverCalls = (desk: Desk): Handlers<typeof handoverContract> => ({
  'handover.read': () => withFile(desk, (file) => done(read(desk, file))),
  'handover.differences': ({ issueId }) => withFile(desk, (file) => differences(desk, file, issueId)),
  'handover.start': ({ wanted }) => withFile(desk, (file) => startWork(desk, file, wanted)),
  'handover.progress': ({ jobId }) => progressOfWork(desk, jobId),
  'handover.stop': ({ jobId }) => stopWork(desk, jobId),
  'handover.file': ({ jobId, index }) => fileOfWork(desk, jobId, index),
  'handover.kept': ({ issueDocumentId }) => withFile(desk, (file) => keptAgain(file, issueDocumentId)),
  'handover.document': (given) => withFile(desk, (file) => addDocument(desk, file, given)),
  'print.labels': async (asked) => {
    const { file } = desk
    return file === null ? noJob() : printLabels(file, asked, desk.options.now())
  },
  'handover.workbooks': async () => {
    const { file } = desk
    return file === null ? noJob() : handWorkbooks(file, desk.options.who, desk.options.now())
  },
  'handover.calendar': () =>
    withFile(desk, ({ data }) =>
      done(
        made(
          `${plainName(data.job.name)} - maintenance.ics`,
          calendarType,
          Buffer.from(calendarOf(data, desk.options.now())),
        ),
      ),
    ),
})

const byPosition = <T extends { readonly position: number }>(records: Iterable<T>): T[] =>
  [...records].toSorted((one, other) => one.position - other.position)

function read(desk: Desk, file: JobFile): HandoverRead {
  const { data } = file
  return {
    standing: standingLines(standingFacts(handoverDesk(desk, file))),
    issues: issuesInOrder(data)
      .toReversed()
      .map((issue) => ({
        issue,
        isSealed: issue.twinSha256 !== null,
        documents: byPosition(data.referring('issueDocument', 'issueId', issue.id)),
      })),
    nextNames: { schedule: nextIssueName(data, 'schedule'), handover: nextIssueName(data, 'handover') },
    lastSealedId: lastSealed(data)?.id ?? null,
    signatures: byPosition(data.all('signature')),
    contacts: [...data.all('contact')],
    quantities: partQuantities(data),
    spares: [...data.all('spare')],
    tasks: byPosition(data.all('maintenanceTask')),
    due: dueItems(data, desk.options.now().slice(0, 10)),
    documents: [...data.all('document')]
      .filter(({ mediaType }) => mediaType?.startsWith('image/') !== true)
      .toSorted((one, other) => (one.name < other.name ? -1 : 1))
      .map((document) => ({ document, covers: coversWords(data, document) })),
    supplies: byPosition(data.all('supply')).map(({ id, mark }) => ({ id, mark })),
    underWay: workUnderWay(desk),
  }
}

function coversWords(data: JobData, { partId, openingId }: JobRecord<'document'>): KeptDocument['covers'] {
  const part = data.get('part', partId ?? '')?.name
  const mark = data.get('opening', openingId ?? '')?.mark
  return [part, mark === undefined ? undefined : `opening ${mark}`]
    .filter((each) => each !== undefined)
    .join(', ')
}

function differences(
  desk: Desk,
  file: JobFile,
  issueId: string,
): Answer<{ since: string; difference: ReturnType<typeof differenceOf> } | null> {
  const issue = file.data.get('issue', issueId)
  if (issue === undefined) return done(null)
  const state = sealedState(file, issue)
  if (!state.ok) return refused('no-state', state.sentence)
  return done({
    since: issue.name,
    difference: differenceOf(workOut(state.data), handoverDesk(desk, file)),
  })
}

function keptAgain(file: JobFile, issueDocumentId: string): Answer<MadeFile> {
  const document = file.data.get('issueDocument', issueDocumentId)
  if (document === undefined) return refused('gone', 'That document is no longer in this job.')
  const bytes = file.attachment(document.sha256)
  return bytes.ok ? done(made(document.name, document.mediaType, bytes.bytes)) : fromStore(bytes)
}

const startsAsPdf = (bytes: Uint8Array): boolean =>
  Buffer.from(bytes.subarray(0, 1024)).toString('latin1').includes('%PDF-')

function addDocument(
  desk: Desk,
  file: JobFile,
  given: {
    readonly name: string
    readonly fileName: string
    readonly base64: string
    readonly partId: string | null
    readonly openingId: string | null
  },
): Answer<ChangeOutcome> {
  const { name, fileName, base64, partId, openingId } = given
  const bytes = Buffer.from(base64, 'base64')
  if (!startsAsPdf(bytes))
    return refused('not-a-document', `${fileName} is no PDF; expected a maker’s document as a PDF file.`)
  if (partId === null && openingId === null)
    return refused('covers-nothing', `Say which part or which opening ${fileName} covers.`)
  const attached = file.attach(bytes)
  if (!attached.ok) return fromStore(attached)
  return carryOut(desk, file, {
    does: 'change records',
    name: `Add the maker’s document ${name}`.slice(0, 200),
    add: [
      {
        kind: 'document',
        record: {
          id: 'new:document',
          name,
          form: 'maker’s document',
          mediaType: 'application/pdf',
          sha256: attached.sha256,
          byteCount: bytes.byteLength,
          reference: null,
          partId,
          openingId,
          fittingId: null,
          proofId: null,
          visitId: null,
          notes: null,
        },
      },
    ],
    set: [],
    remove: [],
  })
}

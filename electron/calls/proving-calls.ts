// What is to be proved, and what was.
import {
  done,
  refused,
  type Answer,
  type ChangeOutcome,
  type Handlers,
  type MadeFile,
  type OpeningToWalk,
  type ProofPage,
  type ProvingOverview,
  type RecordedProof,
  type provingContract,
} from '../../core/contract/index.ts'
import { joinedSheets } from '../../core/documents/index.ts'
import { openingsInOrder } from '../../core/handover/index.ts'
import { progressOf, proofDocument, recordProofs, type ProofResult } from '../../core/proving/index.ts'
import { scheduleRow } from '../../core/schedule/index.ts'
import type { JobFile } from '../store/index.ts'
import { carryOut } from './change-calls.ts'
import { fromStore, noJob, withFile, type Desk } from './desk.ts'
import { pressed, sheetSize } from './made-files.ts'
import { provingDesk } from './proving-desk.ts'

export const provingCalls = (desk: Desk): Handlers<typeof provingContract> => ({
  'proving.read': () => withFile(desk, (file) => done(overview(desk, file))),
  'proving.opening': ({ openingId }) => withFile(desk, (file) => page(desk, file, openingId)),
  'proving.record': ({ results }) => withFile(desk, (file) => record(desk, file, results)),
  'proving.photograph': (given) => withFile(desk, (file) => photograph(desk, file, given)),
  'attachment.read': ({ sha256 }) =>
    withFile(desk, (file) => {
      const kept = file.attachment(sha256)
      return kept.ok ? done({ base64: Buffer.from(kept.bytes).toString('base64') }) : fromStore(kept)
    }),
  'print.proofs': async ({ openingIds }) => {
    const { file } = desk
    return file === null ? noJob() : print(desk, file, openingIds)
  },
})

const gone = () => refused('gone', 'That opening is no longer in this job.')

function overview(desk: Desk, { data, revision }: JobFile): ProvingOverview {
  const { proofOf } = provingDesk(desk, data, revision)
  const walked = openingsInOrder(data).map((opening) => ({ opening, proof: proofOf(opening) }))
  const byLevel = Map.groupBy(walked, ({ opening }) => opening.levelId)
  return {
    progress: progressOf(walked.map(({ proof }) => proof)),
    levels: [...byLevel].map(([levelId, list]) => ({
      levelId,
      name: data.get('level', levelId)?.name ?? '',
      progress: progressOf(list.map(({ proof }) => proof)),
    })),
    openings: walked.map(({ opening, proof }): OpeningToWalk => ({
      openingId: opening.id,
      mark: opening.mark,
      where: scheduleRow(data, opening).where,
      levelId: opening.levelId,
      counts: proof.counts,
      proved: proof.proved,
    })),
    findings: [...data.all('finding')].map((finding) => ({
      finding,
      mark: data.get('opening', finding.openingId ?? '')?.mark ?? null,
    })),
  }
}

function page(desk: Desk, { data, revision }: JobFile, openingId: string): Answer<ProofPage> {
  const opening = data.get('opening', openingId)
  if (opening === undefined) return gone()
  const walk = openingsInOrder(data)
  const at = walk.findIndex(({ id }) => id === opening.id)
  return done({
    openingId: opening.id,
    mark: opening.mark,
    where: scheduleRow(data, opening).where,
    proof: provingDesk(desk, data, revision).proofOf(opening),
    findings: data.referring('finding', 'openingId', opening.id),
    photographs: data
      .referring('document', 'openingId', opening.id)
      .filter(({ mediaType, sha256 }) => sha256 !== null && mediaType?.startsWith('image/') === true),
    before: walk[at - 1]?.id ?? null,
    after: walk[at + 1]?.id ?? null,
  })
}

function record(desk: Desk, file: JobFile, recorded: readonly RecordedProof[]): Answer<ChangeOutcome> {
  const { data } = file
  const { stepsOf } = provingDesk(desk, data, file.revision)
  const results: ProofResult[] = []
  for (const { openingId, stepKey, ...rest } of recorded) {
    const opening = data.get('opening', openingId)
    if (opening === undefined) return gone()
    const step = stepsOf(opening).find(({ key }) => key === stepKey)
    if (step === undefined)
      return refused('gone', `${opening.mark} no longer has that step; look at its proof again.`)
    results.push({ openingId, mark: opening.mark, step, ...rest })
  }
  const made = recordProofs(results)
  if (!made.ok) return refused('not-possible', `${made.sentence} Nothing was changed.`)
  return carryOut(desk, file, made.command)
}

/** JPEG and PNG by their first bytes, whatever the file is called. */
export function pictureType(bytes: Uint8Array): 'image/jpeg' | 'image/png' | null {
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return 'image/jpeg'
  if (bytes[0] === 0x89 && bytes[1] === 0x50 && bytes[2] === 0x4e && bytes[3] === 0x47) return 'image/png'
  return null
}

function photograph(
  desk: Desk,
  file: JobFile,
  given: {
    readonly openingId: string
    readonly stepKey: string | null
    readonly fileName: string
    readonly base64: string
    readonly caption: string
  },
): Answer<ChangeOutcome> {
  const { data } = file
  const opening = data.get('opening', given.openingId)
  if (opening === undefined) return gone()
  const bytes = Buffer.from(given.base64, 'base64')
  const mediaType = pictureType(bytes)
  if (mediaType === null)
    return refused('not-a-picture', `${given.fileName} is no photograph; expected a JPEG or PNG file.`)
  const attached = file.attach(bytes)
  if (!attached.ok) return fromStore(attached)
  const proof = data
    .referring('proof', 'openingId', opening.id)
    .filter(({ step }) => step === given.stepKey)
    .at(-1)
  return carryOut(desk, file, {
    does: 'change records',
    name: `Add a photograph to ${opening.mark}`,
    add: [
      {
        kind: 'document',
        record: {
          id: 'new:photograph',
          name: given.caption.trim() === '' ? given.fileName : given.caption.trim(),
          form: 'photograph',
          mediaType,
          sha256: attached.sha256,
          byteCount: bytes.byteLength,
          reference: null,
          partId: null,
          openingId: opening.id,
          fittingId: null,
          proofId: proof?.id ?? null,
          visitId: null,
          notes: null,
        },
      },
    ],
    set: [],
    remove: [],
  })
}

async function print(desk: Desk, file: JobFile, openingIds: readonly string[]): Promise<Answer<MadeFile>> {
  const { data, revision } = file
  const { proofOf } = provingDesk(desk, data, revision)
  const sheets = openingIds.flatMap((id) => {
    const opening = data.get('opening', id)
    if (opening === undefined) return []
    const { where } = scheduleRow(data, opening)
    return [proofDocument(data.job, { mark: opening.mark, where }, proofOf(opening))]
  })
  const document = joinedSheets(sheets, 'Test sheets')
  if (document === null) return gone()
  return pressed(document, {
    name: `${data.job.name} - ${document.facts.title.toLowerCase()}`,
    pageSize: sheetSize(data.job),
    createdAt: desk.options.now(),
  })
}

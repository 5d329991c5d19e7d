// Parts and typicals: what they are, where they are used, side by side, and trying a change before it is kept.
import { readFileSync } from 'node:fs'
import { doorwayProblemSentence, sequenceOf } from '../../core/behaviour/index.ts'
import type { Review } from '../../core/cautions/index.ts'
import {
  done,
  refused,
  type Answer,
  type BehaviourPage,
  type Handlers,
  type Made,
  type PartInShort,
  type partsContract,
  type PartsList,
  type TypicalInShort,
} from '../../core/contract/index.ts'
import { gateLines, gatesOf } from '../../core/documents/index.ts'
import { readLibrary } from '../../core/exchange/index.ts'
import type { JobData } from '../../core/job/index.ts'
import {
  amount,
  bringIn,
  compareParts,
  compareTypicals,
  copyPart,
  dataOfLibrary,
  doesWords,
  elsewhereWords,
  fittingsOfTypical,
  hardwareStillNamed,
  libraryOffers,
  linksOfTypical,
  newPart,
  partRecords,
  partUse,
  renameOfPart,
  reviewOfTypical,
  stillUsed,
  typicalJob,
  voltsWords,
} from '../../core/parts/index.ts'
import { type Command } from '../../core/schedule/index.ts'
import type { JobFile } from '../store/index.ts'
import { carryOut, commit } from './change-calls.ts'
import { withFile, type Desk } from './desk.ts'
import { partsLibrary } from './supplied.ts'

const partGone = () => refused('gone', 'That part is no longer in this job.')
const typicalGone = () => refused('gone', 'That typical is no longer in this job.')
const notPossible = (sentence: string) => refused('not-possible', `${sentence} Nothing was changed.`)

export const partsCalls = (desk: Desk): Handlers<typeof partsContract> => ({
  'parts.read': () => withFile(desk, ({ data }) => done(partsList(data))),
  'part.read': ({ partId }) =>
    withFile(desk, ({ data }) => {
      const records = partRecords(data, partId)
      if (records === null) return partGone()
      return done({
        records,
        does: doesWords(records),
        use: partUse(data, partId),
        kinds: [...new Set([...data.all('part')].map(({ kind }) => kind))].toSorted(),
        documents: data.referring('document', 'partId', partId),
        spares: data.referring('spare', 'partId', partId),
      })
    }),
  'parts.compare': ({ partIds }) =>
    withFile(desk, ({ data }) => {
      const there = partIds.filter((id) => data.get('part', id) !== undefined)
      return done({
        names: there.map((id) => data.get('part', id)?.name ?? ''),
        sections: compareParts(data, there),
      })
    }),
  'part.make': ({ name, kind, likePartId }) =>
    withFile(desk, (file) => {
      const wanted = name.trim()
      if (wanted === '') return notPossible('No name was given; expected a name for the part.')
      if (likePartId === null)
        return kind.trim() === ''
          ? notPossible('No kind was given; expected what the part is, such as strike.')
          : made(desk, file, newPart(kind.trim(), wanted))
      const like = partRecords(file.data, likePartId)
      return like === null ? partGone() : made(desk, file, copyPart(like, wanted))
    }),
  'part.rename': ({ kind, id, name }) =>
    withFile(desk, (file) => {
      const renamed = renameOfPart(file.data, kind, id, name)
      return renamed.ok ? carryOut(desk, file, renamed.command) : notPossible(renamed.sentence)
    }),
  'part.removeHardware': ({ hardwareId }) =>
    withFile(desk, (file) => {
      const hardware = file.data.get('partHardware', hardwareId)
      if (hardware === undefined) return notPossible('That hardware is no longer there.')
      const named = hardwareStillNamed(file.data, hardwareId)
      if (named !== null) return notPossible(named)
      return carryOut(desk, file, {
        does: 'change records',
        name: `Remove the ${hardware.name} of ${file.data.get('part', hardware.partId)?.name ?? 'a part'}`,
        add: [],
        set: [],
        remove: [{ kind: 'partHardware', id: hardwareId }],
      })
    }),
  'part.remove': ({ partId }) =>
    withFile(desk, (file) => {
      const part = file.data.get('part', partId)
      if (part === undefined) return partGone()
      const used = stillUsed(part.name, partUse(file.data, partId))
      if (used !== null) return notPossible(used)
      return carryOut(desk, file, {
        does: 'change records',
        name: `Remove part ${part.name}`,
        add: [],
        set: [],
        remove: [{ kind: 'part', id: partId }],
      })
    }),
  'starter.read': () => withFile(desk, ({ data }) => done(libraryOffers(starter(), data))),
  'starter.bringIn': (wanted) =>
    withFile(desk, (file) => {
      const { change, partIds, typicalIds, leftOut } = bringIn(
        starter(),
        file.data,
        wanted,
        desk.options.newId,
      )
      if (change.edits.length === 0)
        return notPossible(leftOut[0] ?? 'The job has all of that already; nothing was chosen that it lacks.')
      const outcome = commit(desk, file, change, [], [])
      return outcome.ok
        ? done({ outcome: outcome.value, id: typicalIds[0] ?? partIds[0] ?? null, leftOut })
        : outcome
    }),
  'typical.look': ({ typicalId, trying, fedBy }) =>
    withFile(desk, ({ data }) => {
      const job = typicalJob(data, typicalId, { trying, fedBy })
      if (job === null) return typicalGone()
      return done({
        fedBy,
        tried: trying.length,
        refused: job.refused,
        fittings: fittingsOfTypical(job.data, typicalId),
        links: linksOfTypical(job.data, typicalId),
        behaviour: pageOf(reviewOfTypical(job, fedBy)),
      })
    }),
  'typicals.compare': ({ typicalIds, fedBy }) =>
    withFile(desk, ({ data }) => {
      const there = typicalIds.filter((id) => data.get('typical', id) !== undefined)
      return done({
        names: there.map((id) => data.get('typical', id)?.name ?? ''),
        ...compareTypicals(data, there, fedBy),
      })
    }),
})

const starter = (): JobData => dataOfLibrary(readLibrary(readFileSync(partsLibrary, 'utf8')))

/** Makes a part and gives its id. */
function made(desk: Desk, file: JobFile, command: Command): Answer<Made> {
  const before = new Set([...file.data.all('part')].map(({ id }) => id))
  const outcome = carryOut(desk, file, command)
  if (!outcome.ok) return outcome
  const id = [...file.data.all('part')].find((each) => !before.has(each.id))?.id ?? null
  return done({ outcome: outcome.value, id, leftOut: [] })
}

function partsList(data: JobData): PartsList {
  const parts = [...data.all('part')].flatMap((part): PartInShort[] => {
    const records = partRecords(data, part.id)
    if (records === null) return []
    const { id, kind, name, model } = part
    const use = partUse(data, id)
    return [
      {
        id,
        kind,
        name,
        model,
        does: doesWords(records),
        volts: voltsWords(part.minimumVolts, part.maximumVolts),
        holding: amount(part.holdingAmps, 'A'),
        typicals: use.typicals.length,
        openings: use.openings.length,
        elsewhere: elsewhereWords(use),
        spares: use.spares,
      },
    ]
  })
  return {
    parts: parts.toSorted(
      (one, other) => one.kind.localeCompare(other.kind) || one.name.localeCompare(other.name),
    ),
    typicals: [...data.all('typical')]
      .toSorted((one, other) => one.position - other.position)
      .map((typical) => typicalInShort(data, typical.id, typical.name)),
  }
}

function typicalInShort(data: JobData, id: string, name: string): TypicalInShort {
  const job = typicalJob(data, id)
  const review = job === null ? null : reviewOfTypical(job)
  return {
    id,
    name,
    parts: data
      .referring('typicalFitting', 'typicalId', id)
      .toSorted((one, other) => one.position - other.position)
      .map(({ partId }) => data.get('part', partId)?.kind ?? '?')
      .join(', '),
    openings: data.countReferring('opening', 'typicalId', id),
    gates: review?.behaviour == null ? null : gatesOf(review.behaviour, review.arrangement),
  }
}

// As behaviour-desk.ts does for an opening, in the words of a typical.
function pageOf({ behaviour, problems, arrangement }: Review): BehaviourPage {
  if (behaviour === null)
    return {
      lines: [],
      sequence: [],
      arrangement: null,
      cannotTell: problems.map((problem) =>
        problem.code === 'no fittings'
          ? 'It has no fittings yet, so what it does is not known.'
          : doorwayProblemSentence(problem),
      ),
    }
  return {
    lines: gateLines(behaviour, arrangement),
    sequence: sequenceOf(behaviour).map(({ sentences }) => sentences.join(' ')),
    arrangement: { name: arrangement.wayOut, reasons: arrangement.reasons },
    cannotTell: [],
  }
}

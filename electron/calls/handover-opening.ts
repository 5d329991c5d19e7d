// One opening as its page in a binder, read from the job and from what its engines make of it.
import { cautionsInFull } from '../../core/cautions/index.ts'
import {
  elevationFittings,
  elevationLeaves,
  gateLines,
  howToReadDrawings,
  openingPart,
  preparationChecks,
  preparationSheet,
  loopWords,
  relayWords,
  severityWords,
  type Block,
  type BookIndexEntry,
  type DocumentPart,
  type OpeningPageInput,
} from '../../core/documents/index.ts'
import { warranties, type Warranty } from '../../core/handover/index.ts'
import { effectiveFittings, type JobData, type JobRecord, type Opening } from '../../core/job/index.ts'
import { sequenceOf, doorwayProblemSentence } from '../../core/behaviour/index.ts'
import { voltWords } from '../../core/power/index.ts'
import { doorFromJob, prepareDoor } from '../../core/preparation/index.ts'
import { proofPartWords, type ProofLine } from '../../core/proving/index.ts'
import { cableLengthWords, pointsOfOpening, runPage, runsAtOpening } from '../../core/runs/index.ts'
import { scheduleColumn, scheduleRow, type ScheduleFrame } from '../../core/schedule/index.ts'
import { readingWords, settingsOf, type NotedValue, type PartBook } from '../../core/settings/index.ts'
import type { WorkedOutJob } from './handover-desk.ts'

/** What the pages of all openings share, made once. */
export interface OpeningPages {
  readonly worked: WorkedOutJob
  readonly frame: ScheduleFrame
  readonly book: PartBook
  readonly warranties: ReadonlyMap<string, readonly Warranty[]>
}

export const warrantiesByOpening = (data: JobData): OpeningPages['warranties'] =>
  Map.groupBy(warranties(data), ({ openingId }) => openingId ?? '')

export const openingPage = (pages: OpeningPages, opening: Opening): DocumentPart =>
  openingPart(pages.worked.data.job, pageInput(pages, opening))

function pageInput(pages: OpeningPages, opening: Opening): OpeningPageInput {
  const { worked, frame } = pages
  const { data } = worked
  const { behaviour, arrangement, cautions, problems } = worked.review(opening)
  const row = scheduleRow(data, opening)
  const level = frame.levels.find(({ id }) => id === opening.levelId)?.name ?? ''
  const inFull = cautionsInFull(cautions, worked.facts(opening))
  const proof = worked.proving.proofOf(opening)
  const documents = data.referring('document', 'openingId', opening.id)
  return {
    mark: opening.mark,
    lines: [row.where, level, row.typicalName ?? ''].filter((each) => each !== ''),
    facts: headFacts(pages, opening),
    ...drawn(data, opening),
    behaviour: behaviour === null ? [] : gateLines(behaviour, arrangement),
    sequence: behaviour === null ? [] : sequenceOf(behaviour).map(({ sentences }) => sentences.join(' ')),
    arrangement: behaviour === null ? null : arrangement.wayOut,
    cannotTell: problems.map(doorwayProblemSentence),
    cautions: inFull.lines
      .filter(({ verdict, severity }) => verdict === 'caution' && severity !== 'ask')
      .map(({ severity, rule, sentences }) => ({
        severity: severityWords[severity],
        sentence: rule.sentence,
        why: sentences.join(' '),
      })),
    questionsOpen: inFull.questions.length,
    fittings: fittingLines(pages, opening),
    settings: settingLines(pages, opening),
    volts: (worked.volts().get(opening.id) ?? []).map(({ name, volts, verdict, when, marginVolts }) => ({
      name,
      words:
        volts === null
          ? 'not known; facts are missing'
          : `${voltWords(volts)}, ${when ?? ''}; ${verdict === 'not met' ? `${voltWords(Math.abs(marginVolts ?? 0))} outside what it works with` : verdict}`,
      isWrong: verdict === 'not met',
    })),
    runs: runLines(data, opening),
    points: pointLines(data, opening, pages.book),
    proved: proof.lines.map(provedLine),
    findings: data
      .referring('finding', 'openingId', opening.id)
      .map(
        ({ words, state, owner }) =>
          `${state === 'open' ? 'Open' : 'Closed'}: ${words}${owner === null ? '' : ` (${owner})`}`,
      ),
    photographs: documents.flatMap(({ name, sha256, mediaType }) =>
      sha256 !== null && mediaType?.startsWith('image/') === true ? [{ sha256, caption: name }] : [],
    ),
    makers: makersNames(data, opening),
    notes: opening.notes,
    index: indexOf(data, opening),
  }
}

function headFacts(
  { worked: { data }, frame }: OpeningPages,
  opening: Opening,
): { name: string; text: string }[] {
  const row = scheduleRow(data, opening)
  const context = { units: data.job.units, frame }
  const keys = ['size', 'hand', 'material', 'frame', 'label', 'serial', 'assetTag', 'installed'] as const
  return keys.flatMap((key) => {
    const column = scheduleColumn(key)
    const text = column.text(row, context)
    return text === '' ? [] : [{ name: column.heading, text }]
  })
}

/** The door with its fittings placed, and what is drilled on it. */
function drawn(data: JobData, opening: Opening): Pick<OpeningPageInput, 'elevation' | 'preparation'> {
  const door = doorFromJob(data, opening)
  const prepared = prepareDoor(door)
  const leaves = elevationLeaves(data.referring('leaf', 'openingId', opening.id))
  const withoutPart = effectiveFittings(data, opening).filter(
    ({ leftOut, part }) => !leftOut && part === null,
  )
  return {
    elevation: {
      units: data.job.units,
      seenFrom: 'egress',
      widthMicrometres: opening.widthMicrometres,
      heightMicrometres: opening.heightMicrometres,
      hand: opening.hand,
      leaves,
      fittings: elevationFittings(door, prepared, leaves, withoutPart),
    },
    preparation:
      prepared.preparations.length === 0
        ? []
        : preparationSheet(data.job, door, { ...prepared, withoutPattern: [] }).blocks.flatMap(underOpening),
  }
}

/**
 * A sheet for the work becomes part of a page for later: its head is a heading, how it is read stands at the beginning of the
 * binder, and checks that are met say nothing more.
 */
function underOpening(block: Block): Block[] {
  if (block.form === 'title')
    return [{ form: 'words', title: block.lines[0] ?? block.title, paragraphs: [], cautions: [] }]
  if (block.form === 'words' && block.title === howToReadDrawings) return []
  if (block.form !== 'table' || block.title !== preparationChecks) return [block]
  const groups = block.groups
    .map((group) => ({ ...group, rows: group.rows.filter(({ marks }) => Object.keys(marks).length > 0) }))
    .filter(({ rows }) => rows.length > 0)
  return groups.length === 0 ? [] : [{ ...block, groups }]
}

function fittingLines(
  { worked: { data }, warranties: ends }: OpeningPages,
  opening: Opening,
): OpeningPageInput['fittings'] {
  const byKey = new Map((ends.get(opening.id) ?? []).map((each) => [each.key, each]))
  return effectiveFittings(data, opening)
    .filter(({ leftOut }) => !leftOut)
    .map(({ key, tag, part, serial, fitting }) => {
      const warranty = byKey.get(key)
      return {
        tag,
        part: part?.name ?? 'not known',
        model: part?.model ?? null,
        serial,
        installed: fitting?.installedOn ?? opening.installedOn,
        warrantyEnds: warranty?.endsOn ?? (warranty?.months === 0 ? 'none' : 'not known'),
      }
    })
}

const noted = (value: NotedValue): string =>
  [value.value, [value.at?.slice(0, 10), value.who].filter((each) => each != null).join(', ')]
    .filter((each) => each !== '')
    .join('; ')

function settingLines(
  { worked: { data }, book }: OpeningPages,
  opening: Opening,
): OpeningPageInput['settings'] {
  return settingsOf(data, { openingId: opening.id }, book).flatMap(({ tag, settings }) =>
    settings.map(({ setting, designed, set, found, standing, differences }) => {
      const stands = standing.known ? standing.value : designed.known ? designed.value : null
      return {
        tag,
        setting: setting.name,
        designed: designed.known ? designed.value : null,
        set: set.known ? noted(set) : null,
        found: found.known ? noted(found) : null,
        means: setting.positions.find(({ name }) => name === stands)?.meaning ?? null,
        differs: differences.length > 0,
      }
    }),
  )
}

function runLines(data: JobData, opening: Opening): OpeningPageInput['runs'] {
  return runsAtOpening(data, opening.id).flatMap(({ id }) => {
    const page = runPage(data, id)
    if (page === null) return []
    const { row, conductors } = page
    return [
      {
        name: row.name,
        from: row.from === '' ? 'not known' : row.from,
        to: row.to === '' ? 'not known' : row.to,
        cable: row.cable,
        length: row.lengthMetres === null ? null : cableLengthWords(row.lengthMetres, data.job.units),
        conductors: conductors.map((each) => ({
          ...each,
          purpose: [...new Set([each.purpose, each.role])].filter((word) => word !== null).join(', '),
        })),
      },
    ]
  })
}

const pointLines = (data: JobData, opening: Opening, book: PartBook): OpeningPageInput['points'] =>
  pointsOfOpening(data, opening.id, book).map((point) => ({
    name: point.name,
    controller: point.controllerMark,
    direction: point.direction,
    joinedTo: [point.wiredToFitting, point.contactName].filter((each) => each !== null).join(', '),
    loop: point.direction === 'input' ? loopWords(point) : relayWords(point),
    readings:
      point.loop?.states.map(({ circumstance, reading, meaning }) => ({
        when: circumstance,
        reading: readingWords(reading),
        means: meaning,
      })) ?? [],
  }))

const stateWords: Readonly<Record<ProofLine['state'], string>> = {
  passed: 'passed',
  failed: 'failed',
  'not done': 'not done',
  stale: 'changed since',
  'cannot be proved': 'waits for facts',
}

function provedLine({ step, state, last, staleBecause }: ProofLine): OpeningPageInput['proved'][number] {
  const found = state === 'passed' || state === 'failed' || state === 'stale' ? last : null
  return {
    part: proofPartWords[step.part],
    does: step.does,
    expected: [step.expected ?? step.because.join(' '), staleBecause ?? '']
      .filter((each) => each !== '')
      .join(' '),
    reading: found?.reading == null ? '' : `${found.reading} ${found.unit ?? ''}`.trim(),
    state: stateWords[state],
    whoWhen:
      found === null ? '' : [found.who, found.at?.slice(0, 10)].filter((each) => each != null).join(', '),
    isWrong: state === 'failed',
  }
}

/** The makers' documents that cover this opening or a part on it. */
function makersNames(data: JobData, opening: Opening): string[] {
  const parts = new Set(
    effectiveFittings(data, opening).flatMap(({ part, leftOut }) => (leftOut ? [] : (part?.id ?? []))),
  )
  return makersDocuments(data)
    .filter(
      ({ openingId, partId }) =>
        openingId === opening.id || (openingId === null && partId !== null && parts.has(partId)),
    )
    .map(({ name }) => name)
}

/** Documents whose pages can be bound in. */
export const makersDocuments = (data: JobData): (JobRecord<'document'> & { readonly sha256: string })[] =>
  [...data.all('document')]
    .flatMap((each) =>
      each.sha256 !== null && each.mediaType === 'application/pdf' ? [{ ...each, sha256: each.sha256 }] : [],
    )
    .toSorted((one, other) => (one.name < other.name ? -1 : 1))

function indexOf(data: JobData, opening: Opening): BookIndexEntry[] {
  const rooms = [opening.toSpaceId, opening.fromSpaceId].flatMap((id) => {
    const space = data.get('space', id ?? '')
    return space === undefined ? [] : [`${space.number}${space.name === null ? '' : ` ${space.name}`}`]
  })
  const serials = effectiveFittings(data, opening).flatMap(({ leftOut, serial, tag }) =>
    leftOut || serial === null ? [] : [`${serial}  ${opening.mark} ${tag}`],
  )
  return [
    { list: 'mark', text: opening.mark },
    ...rooms.map((text) => ({ list: 'room', text: `${text}, door ${opening.mark}` })),
    ...(opening.serial === null ? [] : [{ list: 'serial', text: `${opening.serial}  ${opening.mark}` }]),
    ...serials.map((text) => ({ list: 'serial', text })),
  ]
}

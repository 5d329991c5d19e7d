// The binder of a job as a book: one closed list of chapters, each made as its pages are wanted.
import {
  cautionsOverview,
  evidenceLimit,
  facts as factRegister,
  isFactKey,
  localAmendments,
  openingsWaiting,
  wordsOfCaution,
  type QuestionAsked,
} from '../../core/cautions/index.ts'
import { compareJobs, type JobDifference } from '../../core/comparing/index.ts'
import {
  answersDocument,
  batterySheet,
  binderCover,
  binderTitle,
  cableList,
  cautionsListDocument,
  cautionsPageNote,
  chaptersOfPart,
  chapterTitles,
  codesPart,
  codeWords,
  dayWords,
  differencesDocument,
  findingsDocument,
  howToReadPart,
  maintenanceDocument,
  partiesPart,
  pointList,
  powerSheet,
  printedSchedule,
  quantitiesDocument,
  quantityList,
  questionsSheet,
  riserInputs,
  riserSheet,
  sheetColumn,
  sheetOfJob,
  severityWords,
  signaturesDocument,
  standingDocument,
  summaryDocument,
  warrantiesDocument,
  type AnswerRow,
  type BookAttachment,
  type BookBlocks,
  type BookPart,
  type CautionRow,
  type ChapterKey,
  type DocumentBlocks,
  type DocumentPart,
  type MakersPart,
  type Summary,
} from '../../core/documents/index.ts'
import {
  dueItems,
  partQuantities,
  warranties,
  warrantyGroups,
  type StandingLine,
} from '../../core/handover/index.ts'
import {
  compareMarks,
  effectiveFittings,
  type JobData,
  type JobRecord,
  type Opening,
} from '../../core/job/index.ts'
import {
  arrangeRows,
  plainArrangement,
  scheduleFrame,
  scheduleRow,
  usualColumns,
} from '../../core/schedule/index.ts'
import { partBook } from '../../core/settings/index.ts'
import { stateOfJob, type WorkedOutJob } from './handover-desk.ts'
import { makersDocuments, openingPage, warrantiesByOpening, type OpeningPages } from './handover-opening.ts'
import { plainName } from './made-files.ts'

export interface BinderOptions {
  readonly chapters: readonly ChapterKey[]
  /** Null is the whole job. */
  readonly only: { readonly words: string; readonly openings: readonly Opening[] } | null
  /** Null is a print that is no issue. */
  readonly issue: {
    readonly name: string
    readonly sealedBy: string
    readonly openAtSeal: readonly string[]
  } | null
  /** ISO 8601, UTC. */
  readonly at: string
  readonly standing: readonly StandingLine[]
  /** The state of the last sealed issue, to tell what differs; null where there is none. */
  readonly last: { readonly words: string; readonly worked: WorkedOutJob } | null
  /** Files of the job itself that the archive copy carries: its twin, what was worked out, workbooks, the calendar. */
  readonly files: readonly BookAttachment[]
}

interface Making {
  readonly worked: WorkedOutJob
  readonly data: JobData
  readonly options: BinderOptions
  readonly openings: readonly Opening[]
  readonly pages: () => OpeningPages
}

/** A file's key in the book: makers' documents and photographs by their hash. */
export function binderBook(worked: WorkedOutJob, options: BinderOptions): BookBlocks {
  const { data } = worked
  const { job } = data
  const { issue, only, at, chapters } = options
  let pages: OpeningPages | null = null
  const making: Making = {
    worked,
    data,
    options,
    openings: only?.openings ?? worked.openings(),
    pages: () =>
      (pages ??= {
        worked,
        frame: scheduleFrame(data),
        book: partBook(data),
        warranties: warrantiesByOpening(data),
      }),
  }
  const wanted = chapters.filter((key) => only === null || chaptersOfPart.includes(key))
  const head = {
    job,
    issueName: issue?.name ?? null,
    dateText: dayWords(at.slice(0, 10), job.dateForm),
    only: only?.words ?? null,
    sealedBy: issue?.sealedBy ?? null,
    openAtSeal: issue?.openAtSeal ?? [],
  }
  const title = binderTitle(head)
  return {
    facts: {
      title,
      jobName: job.name,
      jobNumber: job.number,
      client: job.client,
      address: job.address,
      preparedBy: job.preparedBy,
      issueName: head.issueName,
      dateText: head.dateText,
      pageNote: 'Local codes and the authority having jurisdiction decide.',
    },
    cover: binderCover(head, title),
    front: [
      partiesPart(job, [...data.all('contact')]),
      howToReadPart(job, { hasTwin: issue !== null }),
      codesPart(job, codeWords(codesInForce(worked))),
    ],
    // A chapter with nothing to say would be an empty line in the contents.
    chapters: wanted.map((key) => ({
      title: chapterTitles[key],
      parts: again(() => chapterParts[key](making)),
    })),
    indexLists: [
      { key: 'mark', title: 'By mark' },
      { key: 'room', title: 'By room' },
      { key: 'serial', title: 'By serial number' },
    ],
    attachments: [...options.files, ...makersAttachments(making, wanted)],
  }
}

/** Two copies go through the same chapter, one after another. */
const again = (make: () => Iterable<BookPart>): Iterable<BookPart> => ({
  [Symbol.iterator]: () => make()[Symbol.iterator](),
})

/** Every chapter a binder can have. A new one is a key in core/documents/handover-chapters.ts and a line here. */
const chapterParts: Readonly<Record<ChapterKey, (making: Making) => Iterable<BookPart>>> = {
  standing: ({ data, options }) => [whole(standingDocument(data.job, options.standing))],
  summary: (making) => [whole(summaryDocument(making.data.job, summaryOf(making)))],
  schedule: schedulePart,
  openings: openingParts,
  power: powerParts,
  riser: riserParts,
  runs: runsParts,
  cautions: cautionsParts,
  findings: ({ data, openings }) => [whole(findingsDocument(data.job, findingsOf(data, openings)))],
  quantities: ({ data }) => [
    part('Parts and spares', quantitiesDocument(data.job, partQuantities(data))),
    part('Cable', quantityList(data)),
  ],
  warranties: ({ data }) => [whole(warrantiesDocument(data.job, warrantyGroups(warranties(data))))],
  maintenance: ({ data, options }) => [
    whole(maintenanceDocument(data.job, dueItems(data, options.at.slice(0, 10)))),
  ],
  signatures: ({ data }) => [whole(signaturesDocument(data.job, [...data.all('signature')]))],
  makers: makersParts,
  differences: ({ worked, data, options }) => [
    whole(
      options.last === null
        ? sheetOfJob({
            job: data.job,
            title: 'Differences from the last issue',
            lines: ['No earlier issue of this job was sealed, so there is nothing to compare with.'],
            blocks: [],
          })
        : differencesDocument(data.job, options.last.words, differenceOf(options.last.worked, worked)),
    ),
  ],
}

export const differenceOf = (before: WorkedOutJob, now: WorkedOutJob): JobDifference =>
  compareJobs(stateOfJob(before), stateOfJob(now))

const whole = (document: DocumentBlocks): DocumentPart => ({
  form: 'document',
  entry: null,
  index: [],
  document,
})
const part = (entry: string, document: DocumentBlocks): DocumentPart => ({
  form: 'document',
  entry,
  index: [],
  document,
})

function schedulePart({ data, openings, options }: Making): BookPart[] {
  const frame = scheduleFrame(data)
  const rows = openings.map((opening) => scheduleRow(data, opening))
  const document = printedSchedule({
    frame,
    groups: arrangeRows(rows, frame, plainArrangement),
    columns: usualColumns,
    choice: options.only?.words ?? null,
  })
  return [{ form: 'document', entry: null, index: [], document, orientation: 'landscape' }]
}

/** A page for each opening, and behind it the makers' documents of that opening alone. */
function* openingParts({ pages, data, openings }: Making): Iterable<BookPart> {
  const shared = pages()
  for (const opening of openings) {
    yield openingPage(shared, opening)
    for (const each of makersDocuments(data)) if (each.openingId === opening.id) yield makersPart(data, each)
  }
}

function* powerParts({ data, worked }: Making): Iterable<BookPart> {
  const job = worked.power()
  for (const power of job.supplies) {
    const document = powerSheet(data, job, power)
    if (document !== null) yield { ...part(power.supply.name, document), orientation: 'landscape' }
  }
  if (job.supplies.length > 0) yield part('Batteries', batterySheet(data, job))
}

function* riserParts({ data, worked }: Making): Iterable<BookPart> {
  for (const input of riserInputs(data, worked.power()))
    yield {
      form: 'document',
      entry: input.building,
      index: [],
      document: riserSheet(data.job, input),
      orientation: 'landscape',
    }
}

function* runsParts({ data }: Making): Iterable<BookPart> {
  yield {
    form: 'document',
    entry: 'Cables',
    index: [],
    document: cableList(data, 'source'),
    orientation: 'landscape',
  }
  const controllers = [...data.all('controller')].toSorted((one, other) => one.position - other.position)
  for (const { id, mark } of controllers)
    yield {
      form: 'document',
      entry: `Points of ${mark}`,
      index: [],
      document: pointList(data, id),
      orientation: 'landscape',
    }
}

function codesInForce(worked: WorkedOutJob): {
  readonly ibc: string | null
  readonly nfpa101: string | null
} {
  const facts = worked.facts(null)
  const [ibc, nfpa101] = [facts.answer('ibc-edition'), facts.answer('nfpa-101-edition')]
  return { ibc: ibc.known ? ibc.value : null, nfpa101: nfpa101.known ? nfpa101.value : null }
}

function* cautionsParts({ worked, data, openings }: Making): Iterable<BookPart> {
  const overview = cautionsOverview(
    openings.map((opening) => [opening.id as string, worked.review(opening).cautions] as const),
    worked.facts(null),
  )
  const words = codeWords(codesInForce(worked))
  const rules = new Map(overview.rules.map((rule) => [rule.key, rule]))
  const questions = new Map(overview.questions.map(({ key, sentence }) => [key, sentence]))
  const marks = overview.lines.map((): string[] => [])
  for (const [openingId, set] of Object.entries(overview.of))
    for (const at of overview.sets[set] ?? []) marks[at]?.push(data.get('opening', openingId)?.mark ?? '')
  const rows = overview.lines.flatMap((line, at): CautionRow[] => {
    const rule = rules.get(line.rule)
    if (rule === undefined) return []
    return [
      {
        severity: severityWords[line.severity],
        rule: rule.sentence,
        citation: rule.citations.join('; '),
        why: [...line.sentences, ...line.missing.flatMap((key) => questions.get(key) ?? [])].join(' '),
        marks: (marks[at] ?? []).toSorted(compareMarks),
        verdict: line.verdict,
      },
    ]
  })
  const severityOrder = Object.values(severityWords)
  yield {
    form: 'document',
    entry: 'Cautions',
    index: [],
    orientation: 'landscape',
    document: cautionsListDocument(
      data.job,
      rows.toSorted(
        (one, other) => severityOrder.indexOf(one.severity) - severityOrder.indexOf(other.severity),
      ),
      {
        codeWords: words,
        words: [`${wordsOfCaution} ${localAmendments}`, evidenceLimit],
        pageNote: cautionsPageNote,
      },
    ),
  }
  yield part('Answers given', answersDocument(data.job, answersOf(data)))
  if (overview.questions.length > 0)
    yield {
      form: 'document',
      entry: 'Questions open',
      index: [],
      orientation: 'landscape',
      document: questionsSheet(data.job, {
        codeWords: words,
        questions: overview.questions,
        marksOf: (question: QuestionAsked) =>
          openingsWaiting(overview, question)
            .flatMap((id) => data.get('opening', id)?.mark ?? [])
            .toSorted(compareMarks),
      }),
    }
}

function answersOf(data: JobData): AnswerRow[] {
  return [...data.all('factAnswer')]
    .map(({ fact, value, levelId, typicalId, openingId, who, at, notes }) => {
      const place =
        openingId !== null
          ? `opening ${data.get('opening', openingId)?.mark ?? ''}`
          : (data.get('level', levelId ?? '')?.name ??
            data.get('typical', typicalId ?? '')?.name ??
            'the job')
      const local = [...data.all('localRule')].find(({ id }) => fact === `local:${id}`)
      return {
        question: isFactKey(fact) ? factRegister[fact].question : (local?.question ?? fact),
        answer: value,
        place,
        who,
        at,
        notes,
      }
    })
    .toSorted((one, other) => (one.question < other.question ? -1 : one.question > other.question ? 1 : 0))
}

const findingsOf = (data: JobData, openings: readonly Opening[]) => {
  const ids = new Set<string>(openings.map(({ id }) => id))
  return [...data.all('finding')]
    .filter(({ openingId }) => openingId === null || ids.has(openingId))
    .map((finding) => ({ finding, mark: data.get('opening', finding.openingId ?? '')?.mark ?? null }))
    .toSorted((one, other) => compareMarks(one.mark ?? '', other.mark ?? ''))
}

function summaryOf({ data, worked, openings }: Making): Summary {
  const inOrder = <T extends { readonly position: number }>(list: Iterable<T>): T[] =>
    [...list].toSorted((one, other) => one.position - other.position)
  const partName = (id: string | null): string => data.get('part', id ?? '')?.name ?? 'not known'
  const where = (text: string | null, spaceId: string | null): string => {
    const space = data.get('space', spaceId ?? '')
    return text ?? (space === undefined ? '' : `${space.number} ${space.name ?? ''}`.trim())
  }
  const byLevel = Map.groupBy(openings, ({ levelId }) => levelId as string)
  const byTypical = Map.groupBy(openings, ({ typicalId }) => typicalId ?? '')
  const buildings = inOrder(data.all('building'))
  return {
    buildings,
    levels: buildings.flatMap((building) =>
      inOrder(data.referring('level', 'buildingId', building.id)).map((level) => {
        const here = byLevel.get(level.id) ?? []
        return {
          building: building.name,
          level: level.name,
          rooms: data.countReferring('space', 'levelId', level.id),
          openings: here.length,
          electrified: here.filter((opening) =>
            effectiveFittings(data, opening).some((each) => !each.leftOut),
          ).length,
          fireLabelled: here.filter(({ fireLabelMinutes }) => (fireLabelMinutes ?? 0) > 0).length,
          proved: here.filter((opening) => worked.proving.proofOf(opening).proved).length,
        }
      }),
    ),
    typicals: inOrder(data.all('typical')).flatMap(({ id, name, description }) => {
      const count = byTypical.get(id)?.length ?? 0
      return count === 0 ? [] : [{ name, description, openings: count }]
    }),
    supplies: inOrder(data.all('supply')).map(({ id, mark, partId, whereText, spaceId }) => ({
      mark,
      part: partName(partId),
      where: where(whereText, spaceId),
      outputs: data.countReferring('output', 'supplyId', id),
    })),
    controllers: inOrder(data.all('controller')).map(({ id, mark, partId, whereText, spaceId }) => ({
      mark,
      part: partName(partId),
      where: where(whereText, spaceId),
      points: data.countReferring('point', 'controllerId', id),
    })),
  }
}

type Maker = ReturnType<typeof makersDocuments>[number]

/** What a maker's document covers: its opening, or its part and the openings that have it. */
function coversLines(data: JobData, { partId, openingId, notes }: Maker): string[] {
  const opening = data.get('opening', openingId ?? '')
  const partOf = data.get('part', partId ?? '')
  const lines = [
    ...(partOf === undefined ? [] : [`Part: ${partOf.name}`]),
    ...(opening === undefined ? [] : [`Opening ${opening.mark}`]),
  ]
  if (partOf !== undefined && opening === undefined) {
    const marks = [...data.all('opening')]
      .filter((each) =>
        effectiveFittings(data, each).some(({ leftOut, part: own }) => !leftOut && own?.id === partOf.id),
      )
      .map(({ mark }) => mark)
      .toSorted(compareMarks)
    if (marks.length > 0)
      lines.push(
        `On ${marks.length === 1 ? 'opening' : 'openings'} ${marks.slice(0, 40).join(', ')}${marks.length > 40 ? ` and ${marks.length - 40} more` : ''}`,
      )
  }
  return notes === null ? lines : [...lines, notes]
}

const makersPart = (data: JobData, document: Maker): MakersPart => ({
  form: 'makers document',
  entry: document.name,
  title: document.name,
  lines: coversLines(data, document),
  index: [],
  attachment: document.sha256,
})

/** Those of one opening stand behind its page where openings are printed. */
function* makersParts(making: Making): Iterable<BookPart> {
  const { data, options } = making
  yield whole(documentsList(data))
  const atOpenings = options.chapters.includes('openings')
  for (const each of makersOf(making))
    if (!(atOpenings && each.openingId !== null)) yield makersPart(data, each)
}

/** The makers' documents that the openings in hand call for. */
function makersOf({ data, openings, options }: Making): Maker[] {
  const all = makersDocuments(data)
  if (options.only === null) return all
  const ids = new Set<string>(openings.map(({ id }) => id))
  const parts = new Set(
    openings.flatMap((opening) => effectiveFittings(data, opening).map(({ part: own }) => own?.id as string)),
  )
  return all.filter(({ openingId, partId }) =>
    openingId === null ? partId === null || parts.has(partId) : ids.has(openingId),
  )
}

function documentsList(data: JobData): DocumentBlocks {
  const documents = [...data.all('document')]
    .filter(({ mediaType }) => mediaType?.startsWith('image/') !== true)
    .toSorted((one, other) => (one.name < other.name ? -1 : 1))
  const keptWords = ({ sha256 }: JobRecord<'document'>): string =>
    sha256 === null ? 'referred to only' : 'kept'
  const covers = (each: JobRecord<'document'>): string =>
    [
      data.get('part', each.partId ?? '')?.name,
      each.openingId === null ? undefined : `opening ${data.get('opening', each.openingId)?.mark ?? ''}`,
    ]
      .filter((text) => text !== undefined)
      .join(', ')
  return sheetOfJob({
    job: data.job,
    title: 'Makers’ documents',
    lines: ['Makers’ documents are their makers’ own words; where they say otherwise than this binder, ask.'],
    blocks: [
      {
        form: 'table',
        title: 'Documents',
        columns: [
          sheetColumn('name', 'Document', 3),
          sheetColumn('form', 'What it is', 1),
          sheetColumn('covers', 'Covers', 3),
          sheetColumn('reference', 'Reference', 2),
          sheetColumn('kept', 'Kept'),
        ],
        groups:
          documents.length === 0
            ? []
            : [
                {
                  title: '',
                  within: null,
                  countText: null,
                  rows: documents.map((each) => ({
                    cells: [each.name, each.form ?? '', covers(each), each.reference ?? '', keptWords(each)],
                    marks: {},
                  })),
                },
              ],
        emptyText: 'No documents of makers are kept. Add them on the Handover sheet.',
      },
    ],
  })
}

/** Each maker's file once, under a name that no other has. */
function makersAttachments(making: Making, chapters: readonly ChapterKey[]): BookAttachment[] {
  if (!chapters.includes('makers') && !chapters.includes('openings')) return []
  const { data, options } = making
  const bound = makersOf(making).filter(({ openingId }) => chapters.includes('makers') || openingId !== null)
  const names = new Set<string>()
  const seen = new Set<string>()
  return bound.flatMap((document): BookAttachment[] => {
    if (seen.has(document.sha256)) return []
    seen.add(document.sha256)
    const base = plainName(document.name).replace(/\.pdf$/i, '')
    let fileName = `${base}.pdf`
    for (let copy = 2; names.has(fileName); copy += 1) fileName = `${base} (${copy}).pdf`
    names.add(fileName)
    return [
      {
        key: document.sha256,
        fileName,
        mediaType: 'application/pdf',
        description: coversLines(data, document)[0] ?? document.name,
        relationship: 'Supplement',
        modifiedAt: options.at,
      },
    ]
  })
}

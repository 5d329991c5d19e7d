// The text twin: everything a job file holds as JSON that any program can read, out and back without loss.
// The same job always gives the same text: fixed order, one record a line, LF, and nothing about the export itself.
import { z } from 'zod'
import {
  JobData,
  readShape,
  recordKinds,
  records,
  references,
  type Fault,
  type RecordKind,
} from '../job/index.ts'

export const twinFormat = 'lintelbook job'
export const twinVersion = 3

const sha256 = z.string().regex(/^[0-9a-f]{64}$/)
const instant = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z$/)
const plainValue = z.union([z.string(), z.number(), z.boolean(), z.null()])
const fields = z.record(
  z.string(),
  z.union([plainValue, z.record(z.string(), z.union([plainValue, z.record(z.string(), plainValue)]))]),
)
const kindName = z.enum(recordKinds as [RecordKind, ...RecordKind[]])

/** Edits of old changes keep the form they had; whether they still fit is asked when one is taken back. */
const editShape = z.discriminatedUnion('does', [
  z.strictObject({ does: z.literal('add'), kind: kindName, record: fields }),
  z.strictObject({ does: z.literal('set'), kind: kindName, id: z.string(), from: fields, to: fields }),
  z.strictObject({ does: z.literal('remove'), kind: kindName, record: fields }),
])

const historyEntryShape = z.strictObject({
  seq: z.int().min(1),
  name: z.string(),
  who: z.string(),
  at: instant,
  state: z.enum(['done', 'undone', 'dropped']),
  /** Who last took it back or did it again, and when. */
  turnedBy: z.string().nullable(),
  turnedAt: instant.nullable(),
  /** The file's revision when this entry last changed its state. */
  revision: z.int().min(1),
  edits: z.array(editShape),
})
/** One change of the journal, with all that is needed to take it back. */
export type TwinHistoryEntry = z.infer<typeof historyEntryShape>

const recordLists = Object.fromEntries(recordKinds.map((kind) => [kind, z.array(records[kind])])) as {
  [K in RecordKind]: z.ZodArray<(typeof records)[K]>
}

const twinShape = z.strictObject({
  format: z.literal(twinFormat),
  version: z.literal(twinVersion),
  records: z.strictObject(recordLists),
  attachments: z.record(sha256, z.string().meta({ contentEncoding: 'base64' })),
  history: z.array(historyEntryShape),
})

/** The published description of the twin, as JSON Schema 2020-12. `refersTo` names the kind an id belongs to. */
export const twinJsonSchema = (): object => ({
  title: 'Text twin of a Lintelbook job file',
  ...z.toJSONSchema(twinShape, { target: 'draft-2020-12' }),
})

/** What a twin holds. Attachments are base64 text by the SHA-256 of their bytes, which the host checks. */
export interface Twin {
  readonly data: JobData
  readonly attachments: Readonly<Record<string, string>>
  readonly history: readonly TwinHistoryEntry[]
}

export interface TwinProblem {
  readonly code:
    | 'not-text'
    | 'not-a-twin'
    | 'newer'
    | 'too-deep'
    | 'bad-record'
    | 'bad-reference'
    | 'bad-attachment'
    | 'bad-history'
  readonly sentence: string
}

export type TwinRead =
  | { readonly ok: true; readonly twin: Twin }
  | { readonly ok: false; readonly problem: TwinProblem }

type Row = Readonly<Record<string, unknown>>
const byCodeUnits = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)

/** The job as text. Equal jobs give equal text, byte for byte. */
export function writeTwin(twin: Twin): string {
  const kinds = recordKinds.map((kind) => `${JSON.stringify(kind)}:${listOf(linesOf(twin.data, kind))}`)
  const attachments = Object.keys(twin.attachments)
    .toSorted(byCodeUnits)
    .map((hash) => `${JSON.stringify(hash)}:${JSON.stringify(twin.attachments[hash])}`)
  const history = twin.history
    .toSorted((one, other) => one.seq - other.seq)
    .map((entry) => JSON.stringify(inOrder(historyEntryShape, entry)))
  return [
    `{"format":${JSON.stringify(twinFormat)},"version":${twinVersion},`,
    `"records":{\n${kinds.join(',\n')}\n},`,
    `"attachments":{${attachments.length === 0 ? '' : `\n${attachments.join(',\n')}\n`}},`,
    `"history":${listOf(history)}}\n`,
  ].join('\n')
}

const listOf = (lines: readonly string[]): string =>
  lines.length === 0 ? '[]' : `[\n${lines.join(',\n')}\n]`

function linesOf(data: JobData, kind: RecordKind): string[] {
  const rows = [...data.all(kind)] as unknown as Row[]
  return rows
    .toSorted((one, other) => byCodeUnits(one['id'] as string, other['id'] as string))
    .map((row) => JSON.stringify(inOrder(records[kind], row)))
}

const inOrder = (shape: z.ZodObject, row: object): Row =>
  Object.fromEntries(Object.keys(shape.shape).map((field) => [field, (row as Row)[field]]))

type Raw = Record<string, unknown>
/** How a twin of an older version becomes one of the next: the first entry takes version 1 to 2. */
const upgrades: readonly ((twin: Raw) => Raw)[] = [
  withEmptyLists([
    'partContactTiming',
    'partBehaviour',
    'partHardware',
    'partElement',
    'settingEffect',
    'typicalFittingLeaf',
    'leafOverlap',
  ]),
  withEmptyLists([
    'jobTerms',
    'localRule',
    'partLoad',
    'partNetworkFeed',
    'partBody',
    'partPatternFit',
    'partCutOut',
    'openingFrame',
    'spare',
    'placement',
    'firingGroup',
    'visitPart',
    'supplyTerms',
    'outputTerms',
    'conductorUse',
    'cableKind',
    'routeLength',
    'networkSwitch',
    'networkPort',
    'pointTerms',
    'pointRelay',
    'issueDocument',
    'signature',
    'maintenanceTask',
  ]),
]

/** Kinds of record that came with a version; an older twin has none of them. */
function withEmptyLists(kinds: readonly RecordKind[]): (twin: Raw) => Raw {
  return (twin) => {
    if (!isObject(twin['records'])) return twin
    const empty = Object.fromEntries(kinds.map((kind) => [kind, []]))
    return { ...twin, records: { ...empty, ...twin['records'] } }
  }
}

const refuse = (code: TwinProblem['code'], sentence: string): { ok: false; problem: TwinProblem } => ({
  ok: false,
  problem: { code, sentence },
})

const isObject = (value: unknown): value is Raw =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** Deeper than any twin goes: the file, history, one entry, edits, one edit, record, source, cells, and a little room. */
const deepest = 12

/** Reads a twin, whatever it is given. The first thing wrong is named by kind, record and field. */
export function readTwin(text: string): TwinRead {
  let parsed: unknown
  try {
    parsed = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text)
  } catch (error) {
    return refuse(
      'not-text',
      `The text twin is not whole JSON (${error instanceof Error ? error.message : 'unreadable'}).`,
    )
  }
  if (!isObject(parsed) || parsed['format'] !== twinFormat)
    return refuse(
      'not-a-twin',
      `The text is not a twin of a job file: expected "format": "${twinFormat}" at its top.`,
    )
  if (isDeeperThan(parsed, deepest))
    return refuse('too-deep', `The text twin is nested more than ${deepest} levels deep, which no job is.`)
  const version = parsed['version']
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return refuse('not-a-twin', 'The text twin does not say its version; expected a whole number from 1.')
  if (version > twinVersion)
    return refuse(
      'newer',
      `The text twin has version ${version}; this program reads up to ${twinVersion}, so it must be updated.`,
    )
  let raw = parsed
  for (const upgrade of upgrades.slice(version - 1)) raw = upgrade(raw)
  return readParts(raw)
}

function readParts(raw: Raw): TwinRead {
  for (const key of Object.keys(raw))
    if (!Object.hasOwn(twinShape.shape, key))
      return refuse('not-a-twin', `The text twin holds an unknown field ${key} at its top.`)
  const data = new JobData()
  const problem = readRecords(raw['records'], data) ?? checkReferences(data)
  if (problem !== null) return { ok: false, problem }
  const attachments = readAttachments(raw['attachments'])
  if (!attachments.ok) return attachments
  const history = readHistory(raw['history'])
  if (!history.ok) return history
  return { ok: true, twin: { data, attachments: attachments.attachments, history: history.history } }
}

const trouble = (code: TwinProblem['code'], sentence: string): TwinProblem => ({ code, sentence })

function readRecords(lists: unknown, data: JobData): TwinProblem | null {
  if (!isObject(lists)) return trouble('not-a-twin', 'The text twin has no "records".')
  for (const kind of Object.keys(lists))
    if (!Object.hasOwn(records, kind))
      return trouble('bad-record', `There is no kind of record called ${kind}.`)
  for (const kind of recordKinds) {
    const list = lists[kind]
    if (!Array.isArray(list))
      return trouble('bad-record', `The text twin has no list of ${kind}; an empty list is written [].`)
    for (const [index, each] of list.entries()) {
      const read = readShape(records[kind] as z.ZodType<unknown>, each)
      if (!read.ok) return trouble('bad-record', faultSentence(kind, index, each, read.fault))
      const id = (read.value as Row)['id'] as string
      if (holdsHalfCharacter(read.value))
        return trouble('bad-record', `The ${kind} ${id} holds half a character, which no file can keep.`)
      if (data.get(kind, id) !== undefined) return trouble('bad-record', `The ${kind} ${id} is there twice.`)
      data.put(kind, read.value as never)
    }
  }
  const jobs = data.count('job')
  return jobs === 1
    ? null
    : trouble('bad-record', `A text twin holds exactly one job, this one holds ${jobs}.`)
}

const holdsHalfCharacter = (value: unknown): boolean => {
  if (typeof value === 'string') return !value.isWellFormed()
  if (!isObject(value)) return false
  return Object.entries(value).some(([key, each]) => !key.isWellFormed() || holdsHalfCharacter(each))
}

function faultSentence(kind: string, index: number, record: unknown, fault: Fault): string {
  const id =
    isObject(record) && typeof record['id'] === 'string' ? record['id'].slice(0, 64) : `number ${index + 1}`
  const field = fault.field === null ? '' : `, field ${fault.field}`
  return `The ${kind} ${id}${field}: ${fault.words}.`
}

function checkReferences(data: JobData): TwinProblem | null {
  for (const { from, field, to } of references)
    for (const each of data.all(from)) {
      const row = each as unknown as Row
      const target = row[field]
      if (typeof target === 'string' && data.get(to, target) === undefined)
        return trouble(
          'bad-reference',
          `The ${from} ${String(row['id'])}, field ${field}: there is no ${to} ${target}.`,
        )
    }
  return null
}

function readAttachments(
  raw: unknown,
): { ok: true; attachments: Record<string, string> } | { ok: false; problem: TwinProblem } {
  if (!isObject(raw)) return refuse('not-a-twin', 'The text twin has no "attachments"; none is written {}.')
  for (const [hash, bytes] of Object.entries(raw)) {
    if (!sha256.safeParse(hash).success)
      return refuse(
        'bad-attachment',
        `An attachment is named ${hash.slice(0, 80)}; expected the 64 digits of a SHA-256.`,
      )
    if (typeof bytes !== 'string' || bytes.length % 4 !== 0 || !/^[A-Za-z0-9+/]*={0,2}$/.test(bytes))
      return refuse('bad-attachment', `The attachment ${hash} is not base64 text.`)
  }
  return { ok: true, attachments: raw as Record<string, string> }
}

function readHistory(
  raw: unknown,
): { ok: true; history: TwinHistoryEntry[] } | { ok: false; problem: TwinProblem } {
  if (!Array.isArray(raw)) return refuse('not-a-twin', 'The text twin has no "history"; none is written [].')
  const history: TwinHistoryEntry[] = []
  let last = 0
  let undoneBefore = false
  for (const [index, each] of raw.entries()) {
    const read = readShape(historyEntryShape, each)
    if (!read.ok)
      return refuse(
        'bad-history',
        `History entry ${index + 1}, field ${read.fault.field ?? ''}: ${read.fault.words}.`,
      )
    const entry = read.value
    if (!entry.name.isWellFormed() || !entry.who.isWellFormed())
      return refuse('bad-history', `History entry ${index + 1} holds half a character.`)
    if (entry.seq <= last)
      return refuse('bad-history', `History entry ${index + 1}: expected a seq above ${last}.`)
    if (entry.state === 'done' && undoneBefore)
      return refuse('bad-history', `History entry ${index + 1} is done after one that is undone.`)
    undoneBefore ||= entry.state === 'undone'
    last = entry.seq
    history.push(entry)
  }
  return { ok: true, history }
}

function isDeeperThan(value: unknown, levels: number): boolean {
  if (typeof value !== 'object' || value === null) return false
  if (levels === 0) return true
  for (const each of Object.values(value)) if (isDeeperThan(each, levels - 1)) return true
  return false
}

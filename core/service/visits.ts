// Visits as named changes that can be taken back: reported, found, done, parts changed, closed.
import {
  effectiveFittings,
  type EffectiveFitting,
  type JobData,
  type JobRecord,
  type Opening,
} from '../job/index.ts'
import type { Command } from '../schedule/index.ts'

type RecordsChange = Extract<Command, { does: 'change records' }>

const change = (
  name: string,
  parts: Partial<Pick<RecordsChange, 'add' | 'set' | 'remove'>>,
): RecordsChange => ({
  does: 'change records',
  name,
  add: [],
  set: [],
  remove: [],
  ...parts,
})

const text = (words: string | null): string | null =>
  words === null || words.trim() === '' ? null : words.trim()

/** Begins a visit with what was reported. When is filled in by the host; until it is closed it has no day of its own. */
export const startVisit = (
  opening: Pick<Opening, 'id' | 'mark'>,
  reported: { readonly by: string | null; readonly symptom: string | null },
): RecordsChange =>
  change(`Start a visit at ${opening.mark}`, {
    add: [
      {
        kind: 'visit',
        record: {
          id: 'new:visit',
          openingId: opening.id,
          reportedBy: text(reported.by),
          reportedAt: { stamped: 'at' },
          symptom: text(reported.symptom),
          found: null,
          done: null,
          who: null,
          at: null,
        },
      },
    ],
  })

export const visitFields = ['reportedBy', 'symptom', 'found', 'done', 'who'] as const
export type VisitField = (typeof visitFields)[number]

const fieldWords: Readonly<Record<VisitField, string>> = {
  reportedBy: 'who reported it',
  symptom: 'what was reported',
  found: 'what was found',
  done: 'what was done',
  who: 'who came',
}

export const noteOnVisit = (
  visitId: string,
  mark: string,
  field: VisitField,
  words: string | null,
): RecordsChange =>
  change(`Note ${fieldWords[field]} on the visit at ${mark}`, {
    set: [{ kind: 'visit', id: visitId, fields: { [field]: text(words) } }],
  })

/** An open visit has no day yet. */
export const isOpen = ({ at }: JobRecord<'visit'>): boolean => at === null

/** Closes a visit: the day is now; who came is who asks, where nobody was named. */
export const closeVisit = (visit: JobRecord<'visit'>, mark: string): RecordsChange =>
  change(`Close the visit at ${mark}`, {
    set: [
      {
        kind: 'visit',
        id: visit.id,
        fields: { at: { stamped: 'at' }, who: visit.who ?? { stamped: 'who' } },
      },
    ],
  })

export const openVisitAgain = (visit: JobRecord<'visit'>, mark: string): RecordsChange =>
  change(`Open the visit at ${mark} again`, { set: [{ kind: 'visit', id: visit.id, fields: { at: null } }] })

export interface PartChange {
  readonly visitId: string
  readonly opening: Pick<Opening, 'id' | 'mark'>
  readonly fitting: Pick<EffectiveFitting, 'slot' | 'fitting' | 'tag' | 'part' | 'serial'>
  /** Null puts in one of the same part. */
  readonly partId: string | null
  readonly newSerial: string | null
  /** yyyy-mm-dd: its warranty begins then. */
  readonly installedOn: string
  readonly notes: string | null
}

const follows = { furnishedBy: null, fittedBy: null, wiredBy: null, terminatedBy: null, notes: null } as const

/** Notes a changed part on the visit and puts it on the opening, in one change. */
export function changePart(given: PartChange): RecordsChange {
  const { visitId, opening, fitting, installedOn } = given
  const own = fitting.fitting
  const newSerial = text(given.newSerial)
  const another = given.partId !== null && given.partId !== fitting.part?.id
  const now = { serial: newSerial, installedOn, ...(another ? { partId: given.partId } : {}) }
  const fittingId = own?.id ?? 'new:fitting'
  return change(`Change ${fitting.tag} of ${opening.mark} on a visit`, {
    add: [
      ...(own === null
        ? [
            {
              kind: 'fitting' as const,
              record: {
                id: fittingId,
                openingId: opening.id,
                leafId: null,
                typicalFittingId: fitting.slot?.id ?? null,
                position: fitting.slot?.position ?? 0,
                tag: null,
                partId: null,
                leftOut: false,
                ...follows,
                ...now,
              },
            },
          ]
        : []),
      {
        kind: 'visitPart' as const,
        record: {
          id: 'new:part',
          visitId,
          fittingId,
          partId: given.partId ?? fitting.part?.id ?? null,
          oldSerial: fitting.serial,
          newSerial,
          notes: text(given.notes),
        },
      },
    ],
    set: own === null ? [] : [{ kind: 'fitting', id: own.id, fields: now }],
  })
}

/** Raises a finding, of a visit or of none. */
export const raiseFinding = (
  opening: Pick<Opening, 'id' | 'mark'>,
  given: { readonly words: string; readonly owner: string | null; readonly visitId: string | null },
): RecordsChange =>
  change(`Raise a finding at ${opening.mark}`, {
    add: [
      {
        kind: 'finding',
        record: {
          id: 'new:finding',
          openingId: opening.id,
          fittingId: null,
          proofId: null,
          visitId: given.visitId,
          words: given.words.trim(),
          owner: text(given.owner),
          state: 'open',
          raisedAt: { stamped: 'at' },
          closedAt: null,
        },
      },
    ],
  })

export const closeFinding = (findingId: string, mark: string): RecordsChange =>
  change(`Close a finding at ${mark}`, {
    set: [{ kind: 'finding', id: findingId, fields: { state: 'closed', closedAt: { stamped: 'at' } } }],
  })

/** What the fittings of an opening are called, for choosing the one that is changed. */
export const changeableFittings = (data: JobData, opening: Opening): EffectiveFitting[] =>
  effectiveFittings(data, opening).filter(({ leftOut }) => !leftOut)

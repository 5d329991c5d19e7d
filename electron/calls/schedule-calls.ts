// Reading: the schedule, one opening's page, one typical's page, and finding.
import {
  done,
  refused,
  type Answer,
  type Handlers,
  type LintelbookContract,
  type OpeningPage,
  type ScheduleSnapshot,
  type TypicalPage,
} from '../../core/contract/index.ts'
import { effectiveFittings, type JobData, type Opening } from '../../core/job/index.ts'
import { scheduleFrame, scheduleRow, scheduleRows } from '../../core/schedule/index.ts'
import type { JobFile } from '../store/index.ts'
import { historyEntry, partsToChoose } from './change-calls.ts'
import { fromStore, jobState, withFile, type Desk } from './desk.ts'

type ScheduleCalls = Pick<
  Handlers<LintelbookContract>,
  'schedule.read' | 'schedule.since' | 'opening.read' | 'typical.read' | 'find.words' | 'preferences.set'
>

export const scheduleCalls = (desk: Desk): ScheduleCalls => ({
  'schedule.read': () => withFile(desk, (file) => done(snapshot(desk, file))),
  'schedule.since': ({ revision }) =>
    withFile(desk, (file) => {
      const refreshed = file.refresh()
      if (!refreshed.ok) return fromStore(refreshed)
      if (refreshed.changed) {
        desk.behaviour.forget()
        desk.power.forget()
      }
      return done({ snapshot: file.revision === revision ? null : snapshot(desk, file) })
    }),
  'opening.read': ({ openingId }) => withFile(desk, (file) => openingPage(desk, file, openingId)),
  'typical.read': ({ typicalId }) => withFile(desk, (file) => typicalPage(file.data, typicalId)),
  'find.words': ({ words, limit }) => withFile(desk, (file) => done({ hits: file.find(words, limit) })),
  'preferences.set': ({ preferences }) => {
    desk.keeping.setWindow(preferences)
    return done({})
  },
})

function snapshot(desk: Desk, file: JobFile): ScheduleSnapshot {
  const { data } = file
  return {
    state: jobState(file),
    frame: scheduleFrame(data),
    rows: scheduleRows(data),
    gates: desk.behaviour.gates(data, data.all('opening')),
    cautions: desk.behaviour.cautions(data, data.all('opening')),
    parts: partsToChoose(data),
    preferences: desk.keeping.window(),
  }
}

function openingPage(desk: Desk, file: JobFile, openingId: string): Answer<OpeningPage> {
  const { data } = file
  const opening = data.get('opening', openingId)
  if (opening === undefined) return refused('gone', 'That opening is no longer in this job.')
  return done({
    row: scheduleRow(data, opening),
    leaves: data.referring('leaf', 'openingId', opening.id).toSorted((a, b) => a.position - b.position),
    fittings: effectiveFittings(data, opening),
    behaviour: desk.behaviour.page(data, opening),
    source: opening.source,
    history: file.historyOf(opening.id, 12).map(historyEntry),
  })
}

function typicalPage(data: JobData, typicalId: string): Answer<TypicalPage> {
  const typical = data.get('typical', typicalId)
  if (typical === undefined) return refused('gone', 'That typical is no longer in this job.')
  const slots = data.referring('typicalFitting', 'typicalId', typical.id)
  const openings = data.referring('opening', 'typicalId', typical.id)
  return done({
    id: typical.id,
    notes: typical.notes,
    fittings: slots
      .toSorted((a, b) => a.position - b.position)
      .map(({ id, tag, partId, furnishedBy, fittedBy, wiredBy, terminatedBy, notes }) => ({
        id,
        tag,
        part: data.get('part', partId) ?? null,
        furnishedBy,
        fittedBy,
        wiredBy,
        terminatedBy,
        notes,
      })),
    differing: openings.flatMap((opening) => {
      const words = differenceWords(data, opening)
      return words.length === 0 ? [] : [{ openingId: opening.id, mark: opening.mark, words }]
    }),
  })
}

/** Every difference an opening has from its typical, in words. */
function differenceWords(data: JobData, opening: Opening): string[] {
  const row = scheduleRow(data, opening)
  const trades = {
    furnishedBy: 'furnished by',
    fittedBy: 'fitted by',
    wiredBy: 'wired by',
    terminatedBy: 'terminated by',
  } as const
  return [
    ...row.ownTrades.map((field) => `${trades[field]} ${row[field] ?? ''}`),
    ...effectiveFittings(data, opening).flatMap((fitting) =>
      fitting.differences.map((words) => `${fitting.tag} ${words}`),
    ),
  ]
}

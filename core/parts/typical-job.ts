// What a typical does by itself: a made-up opening that follows it, in a job that holds nothing else.
import { batteryFromRecord, known, unknown } from '../behaviour/index.ts'
import { reviewsOf, type Review } from '../cautions/index.ts'
import { asId, JobData, type JobRecord, type Opening, type RecordKind } from '../job/index.ts'
import { blankOpening, plan, type Command, type NewId } from '../schedule/index.ts'
import { kindsOfPart, partRecords } from './part-records.ts'

/** What a looker takes for granted of the feed: a typical by itself hangs on no supply. */
export const fedBys = ['not known', 'with a battery', 'without a battery'] as const
export type FedBy = (typeof fedBys)[number]

/** How long the battery that is taken for granted lasts: long enough that it matters to no answer. */
const batterySeconds = 4 * 3600

export interface TypicalJob {
  readonly data: JobData
  readonly opening: Opening
  /** Why something that was tried cannot be done, a sentence each. */
  readonly refused: readonly string[]
}

const levelOfNone = asId<'level'>('level of none')
const openingId = asId<'opening'>('opening of none')

/**
 * A small job with the typical, its parts and one made-up opening: single, or a pair where a fitting says its leaf; hand
 * RH. `trying` is carried out on it in order; the real job stays as it is. Null where there is no such typical.
 */
export function typicalJob(
  data: JobData,
  typicalId: string,
  { trying = [], fedBy = 'not known' }: { trying?: readonly Command[]; fedBy?: FedBy } = {},
): TypicalJob | null {
  const typical = data.get('typical', typicalId)
  if (typical === undefined) return null
  const small = new JobData()
  small.put('job', data.job)
  small.put('typical', typical)
  for (const slot of data.referring('typicalFitting', 'typicalId', typicalId)) {
    takePart(data, small, slot.partId)
    small.put('typicalFitting', slot)
    for (const kind of ['typicalFittingLeaf', 'placement', 'settingValue'] as const)
      for (const record of data.referring(kind, 'typicalFittingId', slot.id)) small.put(kind, record as never)
  }
  for (const link of data.referring('link', 'typicalId', typicalId)) small.put('link', link)
  for (const answer of data.all('factAnswer'))
    if (answer.typicalId === typicalId || isOfJob(answer)) small.put('factAnswer', answer)
  const refused = tryOn(data, small, trying)

  const opening: Opening = {
    ...blankOpening(openingId, { id: levelOfNone } as JobRecord<'level'>, typical.name),
    typicalId: typical.id,
    hand: 'RH',
  }
  small.put('opening', opening)
  const isPair = [...small.all('typicalFittingLeaf')].length > 0
  for (const [position, role] of (isPair ? (['active', 'inactive'] as const) : (['only'] as const)).entries())
    small.put('leaf', {
      id: asId<'leaf'>(`leaf ${role}`),
      openingId,
      position,
      role,
      widthMicrometres: null,
      material: null,
    })
  if (fedBy !== 'not known') feed(small, opening, fedBy)
  return { data: small, opening, refused }
}

const isOfJob = ({ levelId, typicalId, openingId: ofOpening }: JobRecord<'factAnswer'>): boolean =>
  levelId === null && typicalId === null && ofOpening === null

function takePart(from: JobData, to: JobData, partId: string): void {
  if (to.get('part', partId) !== undefined) return
  const of = partRecords(from, partId)
  if (of === null) return
  for (const kind of kindsOfPart) for (const record of of[kind]) to.put(kind, record as never)
}

/** Carries commands out on the small job. Parts that an added fitting needs come along. Says what cannot be done. */
function tryOn(data: JobData, small: JobData, trying: readonly Command[]): string[] {
  const refused: string[] = []
  let count = 0
  const newId: NewId = () => `tried ${(count += 1)}`
  for (const command of trying) {
    for (const part of partsNamed(command)) takePart(data, small, part)
    const planned = plan(command, small, newId, { who: '', at: '2000-01-01T00:00:00Z' })
    if (planned.ok) small.apply(planned.change.edits)
    else refused.push(...planned.problems.map(({ sentence }) => sentence))
  }
  return refused
}

const partsNamed = (command: Command): readonly string[] =>
  command.does === 'add typical fitting'
    ? [command.partId]
    : command.does === 'set typical fitting' && command.fields.partId !== undefined
      ? [command.fields.partId]
      : []

/** One supply for every fitting, so that what happens without the mains is no question of the feed. */
function feed(small: JobData, opening: Opening, fedBy: FedBy): void {
  const supplyId = asId<'supply'>('supply of none')
  const outputId = asId<'output'>('output of none')
  const put = <K extends RecordKind>(kind: K, record: JobRecord<K>): void => small.put(kind, record)
  put('supply', {
    id: supplyId,
    mark: 'the supply',
    position: 0,
    partId: null,
    spaceId: null,
    whereText: null,
    ratedVolts: null,
    ratedAmps: null,
    batteryVolts: null,
    batteryAmpHours: fedBy === 'without a battery' ? 0 : null,
    standbyHours: null,
    alarmMinutes: null,
    batteryInstalledOn: null,
    notes: null,
  })
  put('output', {
    id: outputId,
    supplyId,
    position: 0,
    name: '1',
    ratedVolts: null,
    ratedAmps: null,
    fuseAmps: null,
    notes: null,
  })
  for (const slot of small.referring('typicalFitting', 'typicalId', opening.typicalId ?? '')) {
    const fittingId = asId<'fitting'>(`fitting ${slot.id}`)
    put('fitting', {
      id: fittingId,
      openingId: opening.id,
      leafId: null,
      typicalFittingId: slot.id,
      position: slot.position,
      tag: null,
      partId: null,
      leftOut: false,
      furnishedBy: null,
      fittedBy: null,
      wiredBy: null,
      terminatedBy: null,
      serial: null,
      installedOn: null,
      notes: null,
    })
    put('run', {
      id: asId<'run'>(`run ${slot.id}`),
      name: slot.tag,
      position: slot.position,
      fromOutputId: outputId,
      fromFittingId: null,
      fromControllerId: null,
      toOutputId: null,
      toFittingId: fittingId,
      toControllerId: null,
      cable: null,
      lengthMetres: null,
      notes: null,
    })
  }
}

/** What the made-up opening of a typical does, and what the rules say of it. */
export function reviewOfTypical({ data, opening }: TypicalJob, fedBy: FedBy = 'not known'): Review {
  return reviewsOf(data, {
    stage: 'designed',
    batterySeconds: (supply) =>
      fedBy === 'with a battery' ? known(batterySeconds) : batteryFromRecord(supply),
    // Whoever takes a supply for granted takes the alarm system for fed too: it has a battery of its own.
    fireAlarmBatterySeconds:
      fedBy === 'not known'
        ? unknown({ about: 'battery', thing: 'the fire alarm system' })
        : known(24 * 3600),
  }).of(opening)
}

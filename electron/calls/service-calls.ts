// The call years later: pages for a call and visits.
import { doorwayProblemSentence } from '../../core/behaviour/index.ts'
import type { Review } from '../../core/cautions/index.ts'
import { powerOfSupply } from '../../core/power/index.ts'
import {
  done,
  refused,
  type Answer,
  type CallBehaviour,
  type CallPage,
  type ChangeOutcome,
  type Handlers,
  type MadeFile,
  type OpenVisit,
  type ServiceOverview,
  type serviceContract,
  type VisitInFull,
} from '../../core/contract/index.ts'
import {
  gateLines,
  joinedSheets,
  serviceDocument,
  settingConsequences,
  type ServiceSheet,
} from '../../core/documents/index.ts'
import { issuesInOrder } from '../../core/comparing/index.ts'
import { calendarText, dueItems, warranties } from '../../core/handover/index.ts'
import { effectiveFittings, type JobData, type JobRecord, type Opening } from '../../core/job/index.ts'
import { scheduleRow } from '../../core/schedule/index.ts'
import {
  dueByMonth,
  isOpen,
  releaseTimes,
  sceneOf,
  sinceHandover,
  symptomCautions,
  symptomsOf,
  whatToCheck,
  whoToAsk,
  type PowerOf,
  type Scene,
  type SinceHandover,
} from '../../core/service/index.ts'
import type { JobFile } from '../store/index.ts'
import { carryOut, historyEntry } from './change-calls.ts'
import { fromStore, noJob, withFile, type Desk } from './desk.ts'
import { sealedState } from './handover-desk.ts'
import { made, plainName, pressed, sheetSize } from './made-files.ts'
import { pictureType } from './proving-calls.ts'

export const serviceCalls = (desk: Desk): Handlers<typeof serviceContract> => ({
  'service.read': () => withFile(desk, ({ data }) => done(overview(data, todayOf(desk)))),
  'service.call': ({ openingId }) =>
    withFile(desk, (file) => {
      const opening = file.data.get('opening', openingId)
      return opening === undefined ? gone() : done(callPage(desk, file, opening))
    }),
  'service.photograph': (given) => withFile(desk, (file) => photograph(desk, file, given)),
  'service.calendar': () => withFile(desk, ({ data }) => done(calendar(desk, data))),
  'print.service': async ({ openingIds }) => {
    const { file } = desk
    return file === null ? noJob() : print(desk, file, openingIds)
  },
})

const gone = () => refused('gone', 'That opening is no longer in this job.')
const todayOf = ({ options }: Desk): string => options.now().slice(0, 10)

const behaviourIn = ({ behaviour, arrangement, problems }: Review): CallBehaviour =>
  behaviour === null
    ? { lines: [], cannotTell: problems.map(doorwayProblemSentence) }
    : { lines: gateLines(behaviour, arrangement), cannotTell: [] }

function sceneIn(desk: Desk, file: JobFile, opening: Opening): Scene {
  const { data } = file
  const powerOf: PowerOf = (supplyId) => powerOfSupply(desk.power.read(data), supplyId)
  return sceneOf(data, opening, {
    today: todayOf(desk),
    behaviour: desk.behaviour.reviewAsItStands(data, opening).behaviour,
    powerOf,
    changes: file
      .historyOf(opening.id, 12)
      .filter(({ state }) => state === 'done')
      .map(({ name, who, at }) => ({ name, who, at })),
  })
}

function callPage(desk: Desk, file: JobFile, opening: Opening): CallPage {
  const { data } = file
  const scene = sceneIn(desk, file, opening)
  const designed = desk.behaviour.review(data, opening)
  const found = desk.behaviour.reviewAsItStands(data, opening)
  const page = designed.behaviour?.results ?? []
  return {
    openingId: opening.id,
    mark: opening.mark,
    where: scheduleRow(data, opening).where,
    behaviour: { designed: behaviourIn(designed), found: behaviourIn(found) },
    consequences: settingConsequences(page, found.behaviour?.results ?? []),
    times: releaseTimes(scene),
    settings: scene.settings.map(({ fitting }) => fitting),
    fed: scene.fed,
    fittings: effectiveFittings(data, opening).filter(({ leftOut }) => !leftOut),
    checks: symptomsOf(scene).map((symptom) => ({
      symptom,
      caution: symptomCautions[symptom],
      checks: whatToCheck(scene, symptom),
    })),
    warranties: warranties(data).filter(({ openingId }) => openingId === opening.id),
    batteries: scene.batteries,
    findings: scene.findings,
    visits: scene.visits.toReversed().map((visit) => visitInFull(data, opening, visit)),
    sinceHandover: compared(file, opening),
    people: whoToAsk(data, opening),
    history: file.historyOf(opening.id, 12).map(historyEntry),
    provedAt: scene.provedAt,
    today: scene.today,
  }
}

function visitInFull(data: JobData, opening: Opening, visit: JobRecord<'visit'>): VisitInFull {
  const fittings = effectiveFittings(data, opening)
  const tagOf = (fittingId: string | null): string | null =>
    fittings.find(({ fitting }) => fitting?.id === fittingId)?.tag ?? null
  return {
    visit,
    parts: data.referring('visitPart', 'visitId', visit.id).map((part) => ({
      ...part,
      tag: tagOf(part.fittingId),
      partName: data.get('part', part.partId ?? '')?.name ?? null,
    })),
    settings: data
      .referring('settingValue', 'visitId', visit.id)
      .map(({ fittingId, partSettingId, stage, value }) => {
        const setting = data.get('partSetting', partSettingId)?.name ?? 'a setting'
        return `${tagOf(fittingId) ?? '?'} ${setting}: ${stage} ${value}`
      }),
    photographs: data.referring('document', 'visitId', visit.id),
    findings: data.referring('finding', 'visitId', visit.id),
  }
}

/** Sealed jobs by the hash of their text: the same hash is the same job. */
const sealed = new Map<string, ReturnType<typeof sealedState>>()

/** What an opening is compared with: the job as the last handover issue sealed it. */
function compared(file: JobFile, opening: Opening): SinceHandover {
  const { data } = file
  const last = issuesInOrder(data).findLast(
    ({ form, twinSha256 }) => form === 'handover' && twinSha256 !== null,
  )
  if (last?.twinSha256 == null) return sinceHandover(data, opening, null)
  let state = sealed.get(last.twinSha256)
  if (state === undefined) {
    state = sealedState(file, last)
    // One job is in hand at a time, with one last handover.
    sealed.clear()
    sealed.set(last.twinSha256, state)
  }
  return state.ok
    ? sinceHandover(data, opening, { name: last.name, data: state.data })
    : sinceHandover(data, opening, null, state.sentence)
}

function overview(data: JobData, today: string): ServiceOverview {
  const line = (visit: JobRecord<'visit'>): OpenVisit => {
    const opening = data.get('opening', visit.openingId ?? '')
    return {
      visit,
      mark: opening?.mark ?? null,
      where: opening === undefined ? '' : scheduleRow(data, opening).where,
    }
  }
  const visits = [...data.all('visit')].map(line)
  const lateFirst = (one: OpenVisit, other: OpenVisit): number =>
    (one.visit.at ?? '') < (other.visit.at ?? '') ? 1 : -1
  return {
    openVisits: visits
      .filter(({ visit }) => isOpen(visit))
      .toSorted((one, other) => ((one.visit.reportedAt ?? '') < (other.visit.reportedAt ?? '') ? -1 : 1)),
    lastVisits: visits
      .filter(({ visit }) => !isOpen(visit))
      .toSorted(lateFirst)
      .slice(0, 12),
    openFindings: [...data.all('finding')].filter(({ state }) => state === 'open').length,
    due: dueByMonth(dueItems(data, today)),
    tasks: [...data.all('maintenanceTask')].toSorted((one, other) => one.position - other.position),
    supplies: [...data.all('supply')]
      .toSorted((one, other) => one.position - other.position)
      .map(({ id, mark }) => ({ id, mark })),
    today,
  }
}

function calendar(desk: Desk, data: JobData): MadeFile {
  const name = `${data.job.name} - maintenance`
  const text = calendarText(dueItems(data, todayOf(desk)), {
    jobId: data.job.id,
    name,
    now: desk.options.now(),
  })
  return made(`${plainName(name)}.ics`, 'text/calendar', Buffer.from(text, 'utf8'))
}

function photograph(
  desk: Desk,
  file: JobFile,
  given: {
    readonly visitId: string
    readonly fileName: string
    readonly base64: string
    readonly caption: string
  },
): Answer<ChangeOutcome> {
  const { data } = file
  const visit = data.get('visit', given.visitId)
  if (visit === undefined)
    return refused('not-possible', 'That visit is no longer there. Nothing was changed.')
  const bytes = Buffer.from(given.base64, 'base64')
  const mediaType = pictureType(bytes)
  if (mediaType === null)
    return refused('not-a-picture', `${given.fileName} is no photograph; expected a JPEG or PNG file.`)
  const attached = file.attach(bytes)
  if (!attached.ok) return fromStore(attached)
  const mark = data.get('opening', visit.openingId ?? '')?.mark ?? 'a visit'
  return carryOut(desk, file, {
    does: 'change records',
    name: `Add a photograph to the visit at ${mark}`,
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
          openingId: visit.openingId,
          fittingId: null,
          proofId: null,
          visitId: visit.id,
          notes: null,
        },
      },
    ],
    set: [],
    remove: [],
  })
}

async function print(desk: Desk, file: JobFile, openingIds: readonly string[]): Promise<Answer<MadeFile>> {
  const { data } = file
  const sheets = openingIds.flatMap((id) => {
    const opening = data.get('opening', id)
    return opening === undefined ? [] : [serviceDocument(data.job, sheetOf(callPage(desk, file, opening)))]
  })
  const document = joinedSheets(sheets, 'Service sheets')
  if (document === null) return gone()
  return pressed(document, {
    name: `${data.job.name} - ${document.facts.title.toLowerCase()}`,
    pageSize: sheetSize(data.job),
    createdAt: desk.options.now(),
    orientation: 'portrait',
  })
}

const sheetOf = ({ behaviour, ...page }: CallPage): ServiceSheet => ({
  ...page,
  behaviour: behaviour.found.lines,
  cannotTell: behaviour.found.cannotTell,
})

// What is not as it should be about runs, terminals and points over the whole job.
import { counted, compareMarks, type JobData, type JobRecord, type TypicalFitting } from '../job/index.ts'
import { conductorsOf, conductorUseOf } from './conductors.ts'
import { endName, endOf, fittingName, outputName, tagOf, type Run } from './ends.ts'
import { needsFeed } from './needs-feed.ts'
import { inOrder, runsInOrder } from './rows.ts'

export type WiringFindingForm =
  | 'no run'
  | 'ends nowhere'
  | 'left out'
  | 'terminal used twice'
  | 'output used by nobody'
  | 'point used by nobody'
  | 'contact at two points'

export interface WiringFinding {
  readonly form: WiringFindingForm
  readonly words: string
  readonly openingId: string | null
  readonly runId: string | null
  readonly controllerId: string | null
}

const finding = (
  form: WiringFindingForm,
  words: string,
  at: Partial<Pick<WiringFinding, 'openingId' | 'runId' | 'controllerId'>>,
): WiringFinding => ({ form, words, openingId: null, runId: null, controllerId: null, ...at })

/** Every finding, the forms in the order above. */
export const wiringFindings = (data: JobData): WiringFinding[] => [
  ...withoutRun(data),
  ...runsEndingWrong(data),
  ...terminalsUsedTwice(data),
  ...outputsUsedByNobody(data),
  ...pointFindings(data),
]

/** Openings with fittings that need a feed and that no run reaches. One finding an opening. */
function withoutRun(data: JobData): WiringFinding[] {
  const fedParts = new Map<string, boolean>()
  const isFedPart = (partId: string | null): boolean => {
    const part = data.get('part', partId ?? '')
    if (part === undefined) return false
    const known = fedParts.get(part.id) ?? needsFeed(data, part)
    fedParts.set(part.id, known)
    return known
  }
  const slotsOf = new Map<string, readonly TypicalFitting[]>()
  const slots = (typicalId: string | null): readonly TypicalFitting[] => {
    if (typicalId === null) return []
    const known =
      slotsOf.get(typicalId) ?? data.referring('typicalFitting', 'typicalId', typicalId).toSorted(inOrder)
    slotsOf.set(typicalId, known)
    return known
  }
  const found: WiringFinding[] = []
  for (const opening of data.all('opening')) {
    const own = data.referring('fitting', 'openingId', opening.id)
    const ofTypical = slots(opening.typicalId)
    const bySlot = new Map(own.map((each) => [each.typicalFittingId as string | null, each]))
    const tags: string[] = []
    for (const slot of ofTypical) {
      const fitting = bySlot.get(slot.id)
      if (fitting?.leftOut === true || !isFedPart(fitting?.partId ?? slot.partId)) continue
      if (fitting === undefined || !hasRun(data, fitting.id)) tags.push(fitting?.tag ?? slot.tag)
    }
    for (const fitting of own) {
      if (fitting.leftOut || ofTypical.some(({ id }) => id === fitting.typicalFittingId)) continue
      const before = data.get('typicalFitting', fitting.typicalFittingId ?? '')
      if (isFedPart(fitting.partId ?? before?.partId ?? null) && !hasRun(data, fitting.id))
        tags.push(tagOf(data, fitting))
    }
    if (tags.length > 0)
      found.push(
        finding('no run', `${opening.mark}: no run reaches ${tags.join(', ')} yet.`, {
          openingId: opening.id,
        }),
      )
  }
  return found.toSorted((one, other) => compareMarks(markOf(data, one), markOf(data, other)))
}

const markOf = (data: JobData, { openingId }: WiringFinding): string =>
  data.get('opening', openingId ?? '')?.mark ?? ''

const hasRun = (data: JobData, fittingId: string): boolean =>
  data.countReferring('run', 'toFittingId', fittingId) +
    data.countReferring('run', 'fromFittingId', fittingId) >
  0

function runsEndingWrong(data: JobData): WiringFinding[] {
  const found: WiringFinding[] = []
  for (const run of runsInOrder(data))
    for (const side of ['from', 'to'] as const) {
      const end = endOf(run, side)
      if (end.at === 'nothing')
        found.push(
          finding('ends nowhere', `${run.name} ${side === 'from' ? 'comes from' : 'goes to'} nothing yet.`, {
            runId: run.id,
          }),
        )
      else if (end.at === 'fitting' && data.get('fitting', end.id)?.leftOut === true)
        found.push(
          finding('left out', `${run.name} ends at ${fittingName(data, end.id)}, which was left out there.`, {
            runId: run.id,
            openingId: data.get('fitting', end.id)?.openingId ?? null,
          }),
        )
    }
  return found
}

interface Landing {
  readonly run: Run
  readonly place: string
  readonly terminal: string
  readonly controllerId: string | null
}

/**
 * Terminals on which conductors of more than one run land. Feeds, returns and shields may share one, as chains and home
 * runs do (common practice, no source); anything else is asked about.
 */
function terminalsUsedTwice(data: JobData): WiringFinding[] {
  const landings = new Map<string, Landing[]>()
  for (const run of runsInOrder(data))
    for (const conductor of conductorsOf(data, run.id)) {
      const { fromTerminal, toTerminal } = conductor
      if (fromTerminal === null && toTerminal === null) continue
      const { role } = conductorUseOf(data, conductor)
      if (role === 'feed' || role === 'return' || role === 'shield') continue
      for (const [side, terminal] of [
        ['from', fromTerminal],
        ['to', toTerminal],
      ] as const) {
        const end = endOf(run, side)
        if (terminal === null || end.at === 'nothing') continue
        const key = `${end.at} ${end.id} ${terminal.trim().toLowerCase()}`
        const place = endName(data, end)
        const controllerId = end.at === 'controller' ? end.id : null
        const list = landings.get(key) ?? []
        list.push({ run, place, terminal, controllerId })
        landings.set(key, list)
      }
    }
  return [...landings.values()].flatMap((all) => {
    const [first] = all
    if (first === undefined || all.length < 2) return []
    const runs = [...new Set(all.map(({ run }) => run.name))]
    return [
      finding(
        'terminal used twice',
        `${first.place}, terminal ${first.terminal}: ${counted(all.length, 'conductor')} land there, of ${listed(runs)}.`,
        { runId: first.run.id, controllerId: first.controllerId },
      ),
    ]
  })
}

const listed = (names: readonly string[]): string =>
  names.length > 6
    ? `${names.slice(0, 6).join(', ')} and ${names.length - 6} more`
    : names.length < 2
      ? (names[0] ?? '')
      : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`

function outputsUsedByNobody(data: JobData): WiringFinding[] {
  const found: WiringFinding[] = []
  for (const supply of [...data.all('supply')].toSorted(inOrder))
    for (const output of data.referring('output', 'supplyId', supply.id).toSorted(inOrder))
      if (
        data.countReferring('run', 'fromOutputId', output.id) +
          data.countReferring('run', 'toOutputId', output.id) ===
        0
      )
        found.push(finding('output used by nobody', `${outputName(data, output.id)} feeds nothing.`, {}))
  return found
}

const pointName = (data: JobData, point: JobRecord<'point'>): string =>
  `${data.get('controller', point.controllerId)?.mark ?? '?'} ${point.name}`

/** Points that are wired to nothing, and contacts or locks that two points share. */
function pointFindings(data: JobData): WiringFinding[] {
  const found: WiringFinding[] = []
  const shared = new Map<string, JobRecord<'point'>[]>()
  for (const controller of [...data.all('controller')].toSorted(inOrder))
    for (const point of data.referring('point', 'controllerId', controller.id).toSorted(inOrder)) {
      if (point.fittingId === null) {
        found.push(
          finding(
            'point used by nobody',
            `${pointName(data, point)}: this ${point.direction} is wired to nothing yet.`,
            { controllerId: controller.id },
          ),
        )
        continue
      }
      const key = `${point.direction} ${point.fittingId} ${point.partContactId}`
      shared.set(key, [...(shared.get(key) ?? []), point])
    }
  for (const points of shared.values()) {
    const [first] = points
    if (first === undefined || points.length < 2) continue
    const contact = data.get('partContact', first.partContactId ?? '')?.name
    const thing = `${fittingName(data, first.fittingId ?? '')}${contact === undefined ? '' : `, contact ${contact}`}`
    found.push(
      finding(
        'contact at two points',
        `${thing}: wired to ${points.length} ${first.direction}s, ${points.map((each) => pointName(data, each)).join(' and ')}.`,
        {
          controllerId: first.controllerId,
          openingId: data.get('fitting', first.fittingId ?? '')?.openingId ?? null,
        },
      ),
    )
  }
  return found
}

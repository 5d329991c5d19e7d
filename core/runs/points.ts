// Controllers with their points, and for each input what its loop comes to.
import type { JobData, JobRecord } from '../job/index.ts'
import { loopOfPoint, partBook, type LoopStates, type PartBook } from '../settings/index.ts'
import { endFields, endReader, fittingMaker, fittingName } from './ends.ts'
import { changeBuilder, type RecordsChange } from './records-change.ts'
import { inOrder } from './rows.ts'

export interface PointPage {
  readonly id: string
  readonly controllerId: string
  readonly controllerMark: string
  readonly name: string
  readonly direction: 'input' | 'output'
  /** "118 C1"; null is wired to nothing yet. */
  readonly wiredToFitting: string | null
  readonly openingId: string | null
  readonly contactId: string | null
  readonly contactName: string | null
  /** The contacts of the part there. */
  readonly contacts: readonly { readonly id: string; readonly name: string; readonly form: string }[]
  readonly loopForm: JobRecord<'point'>['loop']
  readonly seriesOhms: number | null
  readonly parallelOhms: number | null
  readonly notes: string | null
  readonly terms: JobRecord<'pointTerms'> | null
  readonly relay: JobRecord<'pointRelay'> | null
  /** Null for an output, and for an input wired to nothing. */
  readonly loop: LoopStates | null
}

export interface ControllerInShort {
  readonly id: string
  readonly mark: string
  readonly where: string | null
  readonly inputs: number
  readonly outputs: number
  readonly wiredToNothing: number
}

export const controllersInShort = (data: JobData): ControllerInShort[] =>
  [...data.all('controller')].toSorted(inOrder).map((controller) => {
    const points = data.referring('point', 'controllerId', controller.id)
    const space = data.get('space', controller.spaceId ?? '')
    const inputs = points.filter(({ direction }) => direction === 'input').length
    return {
      id: controller.id,
      mark: controller.mark,
      where: controller.whereText ?? space?.name ?? space?.number ?? null,
      inputs,
      outputs: points.length - inputs,
      wiredToNothing: points.filter(({ fittingId }) => fittingId === null).length,
    }
  })

/** The points of a controller in their order, with their loops. */
export function pointsOfController(
  data: JobData,
  controllerId: string,
  book: PartBook = partBook(data),
): PointPage[] {
  return data
    .referring('point', 'controllerId', controllerId)
    .toSorted(inOrder)
    .map((point) => pointPage(data, point, book))
}

/** The points wired to fittings of an opening. */
export function pointsOfOpening(
  data: JobData,
  openingId: string,
  book: PartBook = partBook(data),
): PointPage[] {
  return data
    .referring('fitting', 'openingId', openingId)
    .toSorted(inOrder)
    .flatMap(({ id }) => data.referring('point', 'fittingId', id).toSorted(inOrder))
    .map((point) => pointPage(data, point, book))
}

function pointPage(data: JobData, point: JobRecord<'point'>, book: PartBook): PointPage {
  const fitting = data.get('fitting', point.fittingId ?? '')
  const partId = fitting === undefined ? null : partAt(data, fitting.id)
  const contacts = partId === null ? [] : data.referring('partContact', 'partId', partId).toSorted(inOrder)
  const [terms] = data.referring('pointTerms', 'pointId', point.id)
  const [relay] = data.referring('pointRelay', 'pointId', point.id)
  const loop =
    point.direction === 'input' && fitting !== undefined ? loopOfPoint(data, point.id, undefined, book) : null
  return {
    id: point.id,
    controllerId: point.controllerId,
    controllerMark: data.get('controller', point.controllerId)?.mark ?? '?',
    name: point.name,
    direction: point.direction,
    wiredToFitting: fitting === undefined ? null : fittingName(data, fitting.id),
    openingId: fitting?.openingId ?? null,
    contactId: point.partContactId,
    contactName: data.get('partContact', point.partContactId ?? '')?.name ?? null,
    contacts: contacts.map(({ id, name, form }) => ({ id, name, form })),
    loopForm: point.loop,
    seriesOhms: point.seriesOhms,
    parallelOhms: point.parallelOhms,
    notes: point.notes,
    terms: terms ?? null,
    relay: relay ?? null,
    loop: loop?.ok === true ? loop.loop : null,
  }
}

export type PointWired =
  | { readonly ok: true; readonly command: RecordsChange | null }
  | { readonly ok: false; readonly sentence: string }

/** Wires a point to the fitting a person named; empty text takes it off. Where its part has one contact, to that. */
export function wirePoint(data: JobData, pointId: string, text: string): PointWired {
  const point = data.get('point', pointId)
  if (point === undefined) return { ok: false, sentence: 'That point is no longer there.' }
  const read = endReader(data)(text)
  const expected = 'expected a fitting such as 118 C1'
  if (!read.ok) return { ok: false, sentence: `${point.name}, wired to: ${read.words}` }
  const { end } = read
  if (end.at === 'output' || end.at === 'controller')
    return { ok: false, sentence: `${point.name}, wired to: “${text.trim()}” is no fitting; ${expected}.` }
  const change = changeBuilder()
  const partId =
    end.at === 'slot'
      ? (data.get('typicalFitting', end.typicalFittingId)?.partId ?? null)
      : end.at === 'fitting'
        ? partAt(data, end.id)
        : null
  const contacts = partId === null ? [] : data.referring('partContact', 'partId', partId)
  const { fromFittingId } = endFields('from', end, fittingMaker(data, change))
  const keeps = contacts.some(({ id }) => id === point.partContactId)
  const only = point.direction === 'input' && contacts.length === 1 ? (contacts[0]?.id ?? null) : null
  change.set('point', pointId, {
    fittingId: fromFittingId,
    partContactId: keeps ? point.partContactId : only,
  })
  const name =
    end.at === 'nothing' ? `Take ${point.name} off its fitting` : `Wire ${point.name} to ${text.trim()}`
  return { ok: true, command: change.done(name) }
}

function partAt(data: JobData, fittingId: string): string | null {
  const fitting = data.get('fitting', fittingId)
  return fitting?.partId ?? data.get('typicalFitting', fitting?.typicalFittingId ?? '')?.partId ?? null
}

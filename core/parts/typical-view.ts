// A typical as its page shows it: links in sentences, each fitting with leaf, place and settings; and typicals side by side.
import { conditionWords, gateLines, gateWords, type GateLine } from '../documents/index.ts'
import type { JobData, JobRecord } from '../job/index.ts'
import { partBook, settingsOf, type FittingSettings } from '../settings/index.ts'
import { lineKey } from './line-changes.ts'
import { sideBySide, type ComparedSection, type Described } from './comparison.ts'
import { reviewOfTypical, typicalJob, type FedBy } from './typical-job.ts'

export interface TypicalLink {
  readonly id: string
  readonly fromId: string | null
  readonly toId: string | null
  readonly contactId: string | null
  readonly does: JobRecord<'link'>['does']
  readonly sentence: string
  /** What is missing in it, as a question. */
  readonly question: string | null
  readonly notes: string | null
}

export interface TypicalFittingView {
  readonly id: string
  readonly tag: string
  readonly partId: string
  readonly partName: string
  readonly kind: string
  /** On which leaf of a pair; null where it does not say. */
  readonly leaf: JobRecord<'typicalFittingLeaf'> | null
  readonly placement: JobRecord<'placement'> | null
  /** Where its part says it goes. */
  readonly usual: JobRecord<'placement'> | null
  readonly contacts: readonly { readonly id: string; readonly name: string; readonly form: string }[]
  readonly settings: FittingSettings
}

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : 1)

/** The fittings of a typical in its order. */
export function fittingsOfTypical(data: JobData, typicalId: string): readonly TypicalFittingView[] {
  const book = partBook(data)
  return data
    .referring('typicalFitting', 'typicalId', typicalId)
    .toSorted(byPosition)
    .flatMap((slot) => {
      const [settings] = settingsOf(data, { typicalFittingId: slot.id }, book)
      const part = data.get('part', slot.partId)
      return settings === undefined || part === undefined
        ? []
        : [
            {
              id: slot.id,
              tag: slot.tag,
              partId: part.id,
              partName: part.name,
              kind: part.kind,
              leaf: data.referring('typicalFittingLeaf', 'typicalFittingId', slot.id)[0] ?? null,
              placement: data.referring('placement', 'typicalFittingId', slot.id)[0] ?? null,
              usual: data.referring('placement', 'partId', part.id)[0] ?? null,
              contacts: data
                .referring('partContact', 'partId', part.id)
                .toSorted(byPosition)
                .map(({ id, name, form }) => ({ id, name, form })),
              settings,
            },
          ]
    })
}

/** The links of a typical: those that break a feed first, then what asks, then what only watches. */
export function linksOfTypical(data: JobData, typicalId: string): readonly TypicalLink[] {
  const order: readonly JobRecord<'link'>['does'][] = ['breaks feed of', 'asks', 'watches']
  return data
    .referring('link', 'typicalId', typicalId)
    .map((link) => linkView(data, link))
    .toSorted(
      (one, other) =>
        order.indexOf(one.does) - order.indexOf(other.does) || (one.sentence < other.sentence ? -1 : 1),
    )
}

function linkView(data: JobData, link: JobRecord<'link'>): TypicalLink {
  const from = data.get('typicalFitting', link.fromTypicalFittingId ?? '')
  const to = data.get('typicalFitting', link.toTypicalFittingId ?? '')
  const kind = from === undefined ? 'something' : (data.get('part', from.partId)?.kind ?? 'fitting')
  const contact = data.get('partContact', link.partContactId ?? '')?.name ?? null
  return {
    id: link.id,
    fromId: from?.id ?? null,
    toId: to?.id ?? null,
    contactId: link.partContactId,
    does: link.does,
    sentence: linkSentence({ name: `${kind} ${from?.tag ?? '?'}`, contact }, link.does, to?.tag ?? '?'),
    question:
      from === undefined || to === undefined
        ? 'Which fitting?'
        : contact === null && link.does === 'breaks feed of'
          ? `By which contact of ${from.tag}?`
          : null,
    notes: link.notes,
  }
}

/** A link as people say it. */
export function linkSentence(
  from: { readonly name: string; readonly contact: string | null },
  does: JobRecord<'link'>['does'],
  to: string,
): string {
  const by = from.contact === null ? '' : ` by its contact ${from.contact}`
  const name = from.name.charAt(0).toUpperCase() + from.name.slice(1)
  switch (does) {
    case 'breaks feed of':
      return `${name} breaks the feed of ${to} itself${by}.`
    case 'asks':
      return `${name} asks the controller to let ${to} go${by}.`
    case 'watches':
      return `${name} only tells of ${to}${by}.`
  }
}

/** What each kind of link means, for the margin. */
export const linkMeanings: Readonly<Record<JobRecord<'link'>['does'], string>> = {
  'breaks feed of':
    'The contact stands in the feed itself. It works whatever the controller does, so this is what lets people out when the controller is silent.',
  asks: 'A point of the controller hears it, and the controller’s relay lets go. With the controller silent nothing follows.',
  watches: 'The contact is only reported. It changes no passage.',
}

/** What a typical does, condition by condition; empty where nobody can tell. */
export function linesOfTypical(data: JobData, typicalId: string, fedBy: FedBy): readonly GateLine[] {
  const job = typicalJob(data, typicalId, { fedBy })
  if (job === null) return []
  const { behaviour, arrangement } = reviewOfTypical(job, fedBy)
  return behaviour === null ? [] : gateLines(behaviour, arrangement)
}

export interface ComparedLine {
  readonly condition: string
  /** One for each typical; null where it has no such condition. */
  readonly lines: readonly (GateLine | null)[]
  readonly differs: boolean
}

export interface ComparedTypicals {
  readonly behaviour: readonly ComparedLine[]
  readonly sections: readonly ComparedSection[]
}

/** Typicals side by side: what they do, their fittings, links and settings. */
export function compareTypicals(
  data: JobData,
  typicalIds: readonly string[],
  fedBy: FedBy = 'not known',
): ComparedTypicals {
  const lines = typicalIds.map((id) => linesOfTypical(data, id, fedBy))
  const keys = [...new Set(lines.flatMap((each) => each.map(lineKey)))]
  return {
    behaviour: keys.map((key): ComparedLine => {
      const each = lines.map((list) => list.find((line) => lineKey(line) === key) ?? null)
      const [some] = each.flatMap((line) => line ?? [])
      const condition = some === undefined ? key : conditionWords[some.condition]
      return {
        condition: some?.of == null ? condition : `${condition}, ${some.of}`,
        lines: each,
        differs: new Set(each.map(lineText)).size > 1,
      }
    }),
    sections: sideBySide(typicalIds.map((id) => describeTypical(data, id))),
  }
}

const lineText = (line: GateLine | null): string =>
  line === null ? '' : `${gateWords(line.gate)}, ${line.latched}`

function describeTypical(data: JobData, typicalId: string): Described {
  const typical = data.get('typical', typicalId)
  const fittings = fittingsOfTypical(data, typicalId)
  return [
    {
      title: 'Fittings',
      values: fittings.map(({ tag, partName, leaf }) => [
        tag,
        leaf === null ? partName : `${partName}, ${leaf.leaf} leaf`,
      ]),
    },
    { title: 'Links', values: linksOfTypical(data, typicalId).map(({ sentence }) => [sentence, 'yes']) },
    {
      title: 'Settings as designed',
      values: fittings.flatMap(({ tag, settings }) =>
        settings.settings.map(
          ({ setting, designed }) =>
            [`${tag}: ${setting.name}`, designed.known ? designed.value : 'not known'] as const,
        ),
      ),
    },
    {
      title: 'Who does what',
      values: [
        ['Furnished by', typical?.furnishedBy ?? null],
        ['Fitted by', typical?.fittedBy ?? null],
        ['Wired by', typical?.wiredBy ?? null],
        ['Terminated by', typical?.terminatedBy ?? null],
      ],
    },
  ]
}

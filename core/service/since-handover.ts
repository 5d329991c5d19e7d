// What of an opening is no longer as it was handed over: settings, parts and serials.
import { effectiveFittings, type EffectiveFitting, type JobData, type Opening } from '../job/index.ts'
import { settingsOf, type FittingSettings } from '../settings/index.ts'

export interface Difference {
  readonly tag: string
  /** "serial", "part", or the setting's name. */
  readonly what: string
  readonly atHandover: string
  readonly now: string
}

export interface SinceHandover {
  /** What it is compared with: an issue's name, or how it was set and what visits changed. */
  readonly against: string
  readonly differences: readonly Difference[]
}

/** Compares an opening with the job as it was sealed; without a sealed handover, with the bench and the visits. */
export function sinceHandover(
  data: JobData,
  opening: Opening,
  handover: { readonly name: string; readonly data: JobData } | null,
  /** Why there is nothing sealed to compare with. */
  why = 'No handover was sealed with it.',
): SinceHandover {
  const then = handover?.data.get('opening', opening.id)
  if (handover === null || then === undefined)
    return {
      against: `how it was set and fitted. ${why}`,
      differences: [...settingsSinceBench(data, opening), ...partsSinceVisits(data, opening)],
    }
  return {
    against: handover.name,
    differences: [
      ...fittingDifferences(effectiveFittings(handover.data, then), effectiveFittings(data, opening)),
      ...settingDifferences(
        settingsOf(handover.data, { openingId: then.id }),
        settingsOf(data, { openingId: opening.id }),
      ),
    ],
  }
}

const none = 'none'

function fittingDifferences(
  then: readonly EffectiveFitting[],
  now: readonly EffectiveFitting[],
): Difference[] {
  const here = (list: readonly EffectiveFitting[]): readonly EffectiveFitting[] =>
    list.filter(({ leftOut }) => !leftOut)
  const before = new Map(here(then).map((each) => [each.tag, each]))
  const after = new Map(here(now).map((each) => [each.tag, each]))
  const tags = [...new Set([...before.keys(), ...after.keys()])]
  return tags.flatMap((tag): Difference[] => {
    const [one, other] = [before.get(tag), after.get(tag)]
    const values = [
      ['part', one?.part?.name, other?.part?.name],
      ['serial', one?.serial, other?.serial],
    ] as const
    return values.flatMap(([what, was, is]) =>
      (was ?? null) === (is ?? null) ? [] : [{ tag, what, atHandover: was ?? none, now: is ?? none }],
    )
  })
}

/** As it stands; where nobody noted how it stands, as it was designed. */
const standing = ({ standing: stands, designed }: FittingSettings['settings'][number]): string | null =>
  stands.known ? stands.value : designed.known ? designed.value : null

function settingDifferences(then: readonly FittingSettings[], now: readonly FittingSettings[]): Difference[] {
  const before = new Map(
    then.flatMap(({ tag, settings }) =>
      settings.map((state) => [`${tag} ${state.setting.id}`, standing(state)] as const),
    ),
  )
  return now.flatMap(({ tag, settings }) =>
    settings.flatMap((state): Difference[] => {
      const [was, is] = [before.get(`${tag} ${state.setting.id}`) ?? null, standing(state)]
      if (was === is || is === null) return []
      return [{ tag, what: state.setting.name, atHandover: was ?? 'not known', now: is }]
    }),
  )
}

function settingsSinceBench(data: JobData, opening: Opening): Difference[] {
  return settingsOf(data, { openingId: opening.id }).flatMap(({ tag, settings }) =>
    settings.flatMap(({ setting, set, designed, found, foundStands, differences }): Difference[] => {
      if (!foundStands || !found.known || differences.length === 0) return []
      const was = set.known ? set.value : designed.known ? designed.value : null
      return was === null || was === found.value
        ? []
        : [{ tag, what: setting.name, atHandover: was, now: found.value }]
    }),
  )
}

/** The first old serial and the last new one of each fitting that a visit changed. */
function partsSinceVisits(data: JobData, opening: Opening): Difference[] {
  const tags = new Map(effectiveFittings(data, opening).map(({ fitting, tag }) => [fitting?.id ?? '', tag]))
  const visits = data
    .referring('visit', 'openingId', opening.id)
    .toSorted((one, other) => ((one.at ?? '9') < (other.at ?? '9') ? -1 : 1))
  const changed = visits.flatMap(({ id }) => data.referring('visitPart', 'visitId', id))
  const byFitting = Map.groupBy(changed, ({ fittingId }) => fittingId ?? '')
  return [...byFitting].flatMap(([fittingId, list]): Difference[] => {
    const [before, now] = [list[0]?.oldSerial ?? none, list.at(-1)?.newSerial ?? none]
    return before === now
      ? []
      : [{ tag: tags.get(fittingId) ?? 'a fitting that is gone', what: 'serial', atHandover: before, now }]
  })
}

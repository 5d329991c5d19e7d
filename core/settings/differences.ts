// Where designed, set and found do not agree, and since when. By name, never by the place of a position.
import type { Stage } from '../job/index.ts'
import type { SettingOfPart } from './part-settings.ts'
import { isSameValue } from './setting-values.ts'
import type { NotedValue, ThreeStages } from './stages.ts'
import { stageWords, whenAndWho } from './words.ts'

export interface SettingDifference {
  readonly between: readonly [Stage, Stage]
  readonly values: readonly [string, string]
  /** When it was last noted otherwise, and when it was first noted as it is; null is not known. */
  readonly since: { readonly notBefore: string | null; readonly notAfter: string | null }
  readonly words: string
  readonly whoCanSettle: string
}

/**
 * Differences that stand. A found value that somebody set anew since is history, and so is a set value that was later
 * found as designed. What was not noted differs from nothing.
 */
export function differencesOf(setting: SettingOfPart, tag: string, stages: ThreeStages): SettingDifference[] {
  const { designed, set, found, foundStands } = stages
  const differs = (one: NotedValue, other: NotedValue): boolean =>
    !isSameValue(setting, one.value, other.value)
  const made: SettingDifference[] = []
  const say = (between: readonly [Stage, Stage], one: NotedValue, other: NotedValue): void => {
    const asDesigned = designed.known && between[0] === 'set' && !differs(designed, other)
    made.push({
      between,
      values: [one.value, other.value],
      since: sinceWhen(setting, stages, between[0] === 'designed' ? null : one, other),
      words: `${setting.name} of ${tag}: ${part(between[0], one)}, ${part(between[1], other)}${asDesigned ? ', which is as designed' : ''}.`,
      whoCanSettle: whoCanSettle(between, other),
    })
  }
  const stands = foundStands && found.known ? found : null
  const overtaken = stands !== null && designed.known && !differs(designed, stands)
  if (designed.known && set.known && differs(designed, set) && !overtaken)
    say(['designed', 'set'], designed, set)
  if (stands !== null && set.known && differs(set, stands)) say(['set', 'found'], set, stands)
  if (stands !== null && !set.known && designed.known && differs(designed, stands))
    say(['designed', 'found'], designed, stands)
  return made
}

const part = (stage: Stage, noted: NotedValue): string =>
  `${stageWords[stage]} ${noted.value}${stage === 'designed' ? '' : whenAndWho(noted)}`

/** How long the later value has been noted without a break, and the last note before that says otherwise. */
function sinceWhen(
  setting: SettingOfPart,
  { history }: ThreeStages,
  before: NotedValue | null,
  now: NotedValue,
): SettingDifference['since'] {
  const last = history.findIndex((each) => each.id === now.id)
  let first = last
  while (first > 0 && isSameValue(setting, history[first - 1]?.value ?? '', now.value)) first -= 1
  const earlier = history[first - 1]
  return { notBefore: earlier?.at ?? before?.at ?? null, notAfter: history[first]?.at ?? null }
}

function whoCanSettle([, later]: readonly [Stage, Stage], noted: NotedValue): string {
  if (later === 'set')
    return noted.who === null ? 'the project manager' : `the project manager, with ${noted.who}`
  return 'the owner: keep it as found, or put it back'
}

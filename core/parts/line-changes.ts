// What comes out otherwise than before, condition by condition.
import { passageWords, type GateLine } from '../documents/index.ts'

export interface LineChange {
  /** "In was held, now free." One sentence for each of in, out and the latch that changed. */
  readonly sentences: readonly string[]
}

/** One condition, the same before and after. */
export const lineKey = ({ condition, of }: Pick<GateLine, 'condition' | 'of'>): string =>
  `${condition} ${of ?? ''}`

/** What changed, by `lineKey`. Conditions that came or went are said too; the key of one that went is in no line. */
export function lineChanges(
  before: readonly GateLine[],
  after: readonly GateLine[],
): ReadonlyMap<string, LineChange> {
  const was = new Map(before.map((line) => [lineKey(line), line]))
  const changes = new Map<string, LineChange>()
  for (const line of after) {
    const old = was.get(lineKey(line))
    was.delete(lineKey(line))
    const sentences = old === undefined ? ['Was not asked before.'] : differences(old, line)
    if (sentences.length > 0) changes.set(lineKey(line), { sentences })
  }
  for (const key of was.keys()) changes.set(key, { sentences: ['Can no longer be asked.'] })
  return changes
}

function differences(old: GateLine, now: GateLine): string[] {
  const sentences: string[] = []
  const say = (what: string, from: string, to: string): void => {
    if (from !== to) sentences.push(`${what} was ${from}, now ${to}.`)
  }
  say('In', passageWords(old.gate.in), passageWords(now.gate.in))
  say('Out', passageWords(old.gate.out), passageWords(now.gate.out))
  say('The latch', old.latched, now.latched)
  return sentences
}

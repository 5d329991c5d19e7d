// What is already known against this opening: what it cannot do as it stands, findings, visits, changes since it was proved.
import { conditionWords, sentencesOf, type ConditionName, type ConditionResult } from '../behaviour/index.ts'
import type { Draft } from './check.ts'
import type { Scene } from './scene.ts'
import { symptomIn, type Symptom } from './symptoms.ts'

const asksOut: ReadonlySet<ConditionName> = new Set(['exit asked', 'manual release', 'fire alarm'])

/** Where the doorway does what the caller complains of, all by itself: as it is arranged and set. */
export function behaviourDrafts({ behaviour, opening }: Scene, symptom: Symptom): Draft[] {
  const results = behaviour?.results ?? []
  if (symptom === 'will not lock') {
    const secured = results.find(({ condition }) => condition.name === 'secured')
    if (secured === undefined || secured.in.form === 'held' || secured.in.form === 'waits') return []
    if (secured.in.form === 'not known') return []
    return [asItStands(secured, sentencesOf(secured.in), `${opening.mark} does not lock as it stands`)]
  }
  if (symptom !== 'will not release') return []
  return results
    .filter(({ condition, out }) => asksOut.has(condition.name) && out.form === 'held')
    .map((result) =>
      asItStands(
        result,
        sentencesOf(result.out),
        `${conditionWords(result.condition)} it lets nobody out as it stands`,
      ),
    )
}

const asItStands = (result: ConditionResult, because: readonly string[], words: string): Draft => ({
  key: `behaviour ${result.condition.name} ${result.condition.of?.id ?? ''}`,
  form: 'behaviour',
  look: `Try it: ${conditionWords(result.condition).toLowerCase()}, from both sides.`,
  at: 'the door',
  expected: `as worked out, ${result.in.form === 'held' ? 'in held' : 'in free'}, ${result.out.form === 'held' ? 'out held' : 'out free'}`,
  usual: { points: 130, words: `${words}: ${because.join(' ')}` },
  otherwise: 'It is not wired or set as this job says; note what is found.',
  caution:
    result.out.form === 'held'
      ? 'Keep the door in sight while it is tried: nobody gets out on the way that fails.'
      : null,
})

/** Open findings. Those raised for the same thing come far up; those of a fitting that is looked at anyway beside it. */
export function findingDrafts(
  { findings, data }: Scene,
  symptom: Symptom,
  likely: ReadonlySet<string>,
): Draft[] {
  return findings
    .filter(({ state }) => state === 'open')
    .map(({ id, words, owner, raisedAt, fittingId, visitId }): Draft => {
      const reported = data.get('visit', visitId ?? '')?.symptom ?? ''
      const same = symptomIn(words) === symptom || symptomIn(reported) === symptom
      const near = fittingId !== null && likely.has(fittingId)
      return {
        key: `finding ${id}`,
        form: 'finding',
        look: `See whether the open finding still stands: ${words}`,
        at: 'the finding',
        expected: null,
        last: [raisedAt?.slice(0, 10), owner === null ? null : `owned by ${owner}`]
          .filter((each) => each != null)
          .join(', '),
        usual: same
          ? { points: 86, words: 'It was found here for the same thing, and nobody has closed it.' }
          : near
            ? { points: 59, words: 'It was found on a device that stands between, and nobody has closed it.' }
            : { points: 12, words: 'Nobody has closed it; it is not known to bear on this.' },
        otherwise: 'Close it if it was put right; else it may be the cause.',
        fittingId,
      }
    })
}

/** The last visit, where it was for the same thing or changed something. */
export function visitDrafts({ visits, data }: Scene, symptom: Symptom): Draft[] {
  const last = visits.filter(({ at }) => at !== null).at(-1)
  if (last === undefined) return []
  const changed = data.referring('visitPart', 'visitId', last.id)
  const same = last.symptom !== null && symptomIn(last.symptom) === symptom
  if (!same && changed.length === 0) return []
  const day = last.at?.slice(0, 10) ?? ''
  return [
    {
      key: `visit ${last.id}`,
      form: 'past',
      look:
        last.done === null
          ? `Ask what the last visit came to: nothing is noted as done.`
          : `Look whether what was done on the last visit still holds: ${last.done}`,
      at: 'the last visit',
      expected: null,
      last: [day, last.who, last.found].filter((each) => each != null && each !== '').join(', '),
      usual: same
        ? { points: 82, words: `Somebody came for the same thing on ${day}.` }
        : { points: 61, words: `A part was changed here on ${day}.` },
      otherwise: 'If it did not hold, the cause is another one: go on down this list.',
    },
  ]
}

/** Deeds of a visit say what was found, not what was changed. */
const ofVisits = /^(Start|Note|Close|Open|Raise|Add a (photograph|finding)|Take)\b/

export function changeDrafts({ changedSince, provedAt }: Scene): Draft[] {
  const [last] = changedSince.filter(({ name }) => !ofVisits.test(name))
  if (last === undefined || provedAt === null) return []
  const day = last.at.slice(0, 10)
  return [
    {
      key: 'changed since it was proved',
      form: 'past',
      look: `Find out what was changed at the door: “${last.name}”.`,
      at: 'the journal',
      expected: 'the door as it was proved',
      last: `${last.who}, ${day}`,
      usual: {
        points: 57,
        words: `This job was changed here on ${day}, after the opening was proved on ${provedAt.slice(0, 10)}.`,
      },
      otherwise: 'What was proved may no longer hold; prove again what the change touches.',
    },
  ]
}

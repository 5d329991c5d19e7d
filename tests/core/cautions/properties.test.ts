// What holds whatever is answered: unknown never passes, an answer never overturns a verdict, order means nothing.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Change, Device } from '../../../core/behaviour/index.ts'
import {
  facts,
  factKeys,
  factsFrom,
  judgeOpening,
  localFact,
  missingKey,
  readValue,
  rules,
  writeValue,
  type Caution,
  type FactForm,
  type FactKey,
  type FactValue,
  type LocalRule,
  type OpeningToJudge,
  type ReadFacts,
} from '../../../core/cautions/index.ts'
import { withHidden } from '../behaviour/random-doorways.ts'
import {
  behaviourOf,
  cautionFor,
  doorways,
  fittingsOf,
  goodFacts,
  nothingKnown,
  opening,
  type DoorwayName,
} from './openings.ts'

const doorwayNames = Object.keys(doorways) as readonly DoorwayName[]

/** Values on and around every limit of the rules. */
const figures = [0, 1, 2, 3, 4, 5, 6, 12, 15, 16, 24, 25, 30, 34, 39, 40, 48, 49, 50, 84, 99, 100, 800, 1200]

function valueFor(form: FactForm): fc.Arbitrary<FactValue> {
  switch (form.form) {
    case 'yes or no':
      return fc.boolean()
    case 'number':
      return fc.constantFrom(...figures)
    case 'one of':
      return fc.constantFrom(...form.of)
    case 'some of':
      return fc.uniqueArray(fc.constantFrom(...form.of), { minLength: 1, maxLength: 3 })
  }
}

/** The device with each change of its contacts rewritten. */
const withFacts = (device: Device, rewrite: (change: Change) => Change): Device =>
  device.needsPower
    ? {
        ...device,
        contacts: device.contacts.map((each) => ({ ...each, changes: each.changes.map(rewrite) })),
      }
    : {
        ...device,
        contacts: device.contacts.map((each) => ({ ...each, changes: each.changes.map(rewrite) })),
      }

type Answers = Readonly<Partial<Record<FactKey, FactValue>>>
const everyAnswer: fc.Arbitrary<Answers> = fc.record(
  Object.fromEntries(factKeys.map((key) => [key, valueFor(facts[key].answer)])),
)
/** Good answers with some of them changed, so that rules come far enough to differ. */
const mostlyGood: fc.Arbitrary<Answers> = fc
  .tuple(everyAnswer, fc.uniqueArray(fc.constantFrom(...factKeys), { maxLength: 8 }))
  .map(([other, keys]) => ({
    ...goodFacts,
    ...Object.fromEntries(keys.map((key) => [key, other[key] ?? null])),
  }))
const someKeys = fc.uniqueArray(fc.constantFrom(...factKeys), { maxLength: factKeys.length })

const judgedWith = (name: DoorwayName, answers: Answers): OpeningToJudge => ({
  behaviour: behaviourOf(doorways[name]),
  fittings: fittingsOf(doorways[name]),
  facts: factsFrom(answers as ReadFacts),
})
const without = (answers: Answers, keys: readonly FactKey[]): Answers =>
  Object.fromEntries(Object.entries(answers).filter(([key]) => !keys.includes(key as FactKey)))
const byRule = (cautions: readonly Caution[]): ReadonlyMap<string, string> =>
  new Map(cautions.map(({ rule, verdict }) => [rule.key, verdict]))

/** Rules whose verdict at `less` is settled, and differs at `more`. */
function overturned(less: OpeningToJudge, more: OpeningToJudge): readonly string[] {
  const after = byRule(judgeOpening(more))
  return judgeOpening(less)
    .filter(({ verdict, rule }) => verdict !== 'not known' && after.get(rule.key) !== verdict)
    .map(({ rule, verdict }) => `${rule.key}: ${verdict} became ${after.get(rule.key)}`)
}

describe('what is not known', () => {
  test('with nothing known no rule is met', () => {
    const verdicts = judgeOpening(nothingKnown).map(({ verdict }) => verdict)
    expect(new Set(verdicts)).toEqual(new Set(['not known']))
  })

  test('an answer never overturns what was settled without it', () => {
    const answers = fc.oneof(everyAnswer, mostlyGood)
    fc.assert(
      fc.property(fc.constantFrom(...doorwayNames), answers, someKeys, (name, all, keys) => {
        expect(overturned(judgedWith(name, without(all, keys)), judgedWith(name, all))).toEqual([])
      }),
      { numRuns: 1500 },
    )
  })

  test('what is missing names a fact that is in truth unanswered', () => {
    fc.assert(
      fc.property(fc.constantFrom(...doorwayNames), mostlyGood, someKeys, (name, all, keys) => {
        const known = without(all, keys)
        for (const { missing } of judgeOpening(judgedWith(name, known)))
          for (const each of missing)
            if (each.about === 'fact') expect(Object.keys(known)).not.toContain(each.fact)
      }),
      { numRuns: 300 },
    )
  })

  test('fittings or behaviour that are not known settle nothing that knowing them overturns', () => {
    for (const name of doorwayNames)
      for (const edition of ['2018', '2021', '2024'] as const)
        for (const patch of [
          {},
          { 'fire-label-minutes': 90 },
          { 'occupancy-groups': ['A-2'], 'occupant-load': 120 },
        ]) {
          const whole = opening(name, { 'ibc-edition': edition, ...(patch as ReadFacts) })
          expect(overturned({ ...whole, fittings: null }, whole)).toEqual([])
          expect(overturned({ ...whole, behaviour: [] }, whole)).toEqual([])
          for (const result of whole.behaviour) {
            const less = whole.behaviour.filter(({ condition }) => condition.name !== result.condition.name)
            // Without its results a device is not there; so only conditions that every doorway has are left out.
            if (!['secured', 'fire alarm', 'no power', 'together'].includes(result.condition.name)) continue
            expect(overturned({ ...whole, behaviour: less }, whole)).toEqual([])
          }
        }
  })

  test.each([
    ['lever, strike of unknown mode', ['lever, fail-secure strike']],
    ['magnet, sensor whose jumper is not known', ['magnet, sensor that keeps its contact without power']],
    ['delayed exit device, seconds not known', ['delayed exit device, 15 s', 'delayed exit device, 45 s']],
    ['lever lock of unknown mode', ['fail-secure lever lock']],
  ] as const)('%s settles nothing that knowing it overturns', (unknownName, knownNames) => {
    for (const knownName of knownNames)
      for (const patch of [{}, { 'fire-label-minutes': 90 }, { 'stair-door': true }])
        expect(overturned(opening(unknownName, patch), opening(knownName, patch))).toEqual([])
  })

  test('what is not known of a doorway makes no rule met, and settles nothing that knowing it overturns', () => {
    const hides = fc.array(
      fc.nat(11).map((each) => each === 0),
      { minLength: 40, maxLength: 60 },
    )
    fc.assert(
      fc.property(fc.constantFrom(...doorwayNames), mostlyGood, hides, (name, answers, chance) => {
        // An answer stands in for seconds that the doorway does not tell, and may say otherwise than the doorway would.
        const all = without(answers, ['manual-release-seconds'])
        let at = 0
        const hidden = withHidden(doorways[name], () => chance[at++ % chance.length] ?? false)
        const whole = judgedWith(name, all)
        const less = { ...whole, behaviour: behaviourOf(hidden), fittings: fittingsOf(hidden) }
        expect(overturned(less, whole)).toEqual([])
      }),
      { numRuns: 400 },
    )
  })

  test.each([
    ['manual-release-time', 'B1', { 'manual-release-seconds': 60 }],
    ['unlocked-until-reset', 'F1', { 'unlocked-until-reset': false }],
  ] as const)('%s stays open while nobody knows what the contact of %s does', (rule, device, answers) => {
    const doorway = doorways['magnet, sensor, release, alarm']
    const question = { about: 'contact', thing: device, contact: 'feed', when: 'worked' } as const
    const devices = doorway.devices.map((each) =>
      each.id === device
        ? withFacts(each, (change) => ({ ...change, to: { known: false, question } }))
        : each,
    )
    const behaviour = behaviourOf({ ...doorway, devices })
    const { verdict, missing } = cautionFor(rule, {
      ...opening('magnet, sensor, release, alarm', answers),
      behaviour,
    })
    expect(verdict).toBe('not known')
    expect(missing).toContainEqual({ about: 'behaviour', question })
  })

  test('without a chosen code only what can trap someone anywhere is settled against the opening', () => {
    const settled = doorwayNames.flatMap((name) =>
      judgeOpening(opening(name, { 'ibc-edition': null, 'nfpa-101-edition': null })).flatMap(
        ({ verdict, rule }) => {
          const { citations = [], whateverCode } = rules.find(({ key }) => key === rule.key) ?? {}
          const onlyBuildingCodes = citations.every(({ code }) => code === 'IBC' || code === 'NFPA 101')
          const isOpen = verdict === 'not known' || verdict === 'does not apply'
          return onlyBuildingCodes && whateverCode !== true && !isOpen
            ? [`${name}, ${rule.key}: ${verdict}`]
            : []
        },
      ),
    )
    expect(settled).toEqual([])
  })
})

describe('order', () => {
  test('of conditions and fittings means nothing', () => {
    const shuffled = fc.constantFrom(...doorwayNames).chain((name) => {
      const { behaviour, fittings } = judgedWith(name, goodFacts)
      return fc.record({
        name: fc.constant(name),
        behaviour: fc.shuffledSubarray([...behaviour], { minLength: behaviour.length }),
        fittings: fc.shuffledSubarray([...(fittings ?? [])], { minLength: fittings?.length ?? 0 }),
      })
    })
    fc.assert(
      fc.property(shuffled, mostlyGood, ({ name, behaviour, fittings }, answers) => {
        const straight = judgedWith(name, answers)
        const verdicts = byRule(judgeOpening({ ...straight, behaviour, fittings }))
        expect(verdicts).toEqual(byRule(judgeOpening(straight)))
      }),
      { numRuns: 300 },
    )
  })
})

describe('a local rule', () => {
  const rule: LocalRule = {
    key: 'key-box',
    sentence: 'A key box stands beside the main entrance.',
    citation: 'City ordinance 12-4 (2023)',
    question: 'Is there a key box beside the main entrance?',
    answeredBy: 'fire marshal',
    wanted: 'yes',
    severity: 'breaks a rule',
    appliesTo: { to: 'openings where', fact: 'main-entrance', is: true },
  }
  const judged = (answers: ReadFacts, locals: Readonly<Record<string, boolean>>): Caution =>
    cautionFor('key-box', { ...nothingKnown, facts: factsFrom(answers, locals) }, [rule])

  test.each([
    ['unanswered', { 'main-entrance': true }, {}, 'not known'],
    ['answered as wanted', { 'main-entrance': true }, { 'key-box': true }, 'met'],
    ['answered otherwise', { 'main-entrance': true }, { 'key-box': false }, 'caution'],
    ['for other openings', { 'main-entrance': false }, { 'key-box': false }, 'does not apply'],
    ['while it is not known whether it applies', {}, { 'key-box': true }, 'not known'],
  ] as const)('%s', (_, answers, locals, verdict) => {
    const caution = judged(answers, locals)
    expect(caution.verdict).toBe(verdict)
    expect(caution.isLocal).toBe(true)
  })

  test('asks its own question', () => {
    const [missing] = judged({ 'main-entrance': true }, {}).missing
    expect(missing === undefined ? '' : missingKey(missing)).toBe(localFact('key-box'))
  })

  test.each([
    ['sensor release', 'magnet, sensor, release, alarm', 'not known'],
    ['delayed', 'magnet, sensor, release, alarm', 'does not apply'],
  ] as const)('for ways out by %s', (arrangement, name, verdict) => {
    const local: LocalRule = { ...rule, appliesTo: { to: 'ways out', arrangement } }
    expect(cautionFor('key-box', opening(name), [local]).verdict).toBe(verdict)
  })
})

test('a kept answer reads back as it was written', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...factKeys).chain((key) => fc.tuple(fc.constant(key), valueFor(facts[key].answer))),
      ([key, value]) => {
        expect(readValue(facts[key].answer, writeValue(value))).toEqual(value)
      },
    ),
  )
})

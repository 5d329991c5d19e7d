// Loops a tradesperson can check with a meter. Source numbers in brackets are those of the project's standards sheet.
import { describe, expect, test } from 'vitest'
import fc from 'fast-check'
import {
  loopStates,
  readingWords,
  type LoopCable,
  type LoopContact,
  type LoopPoint,
  type LoopStates,
} from '../../../core/settings/index.ts'

const plainPoint: LoopPoint = {
  name: '118 contact',
  loop: 'plain',
  seriesOhms: null,
  parallelOhms: null,
  normally: null,
  tolerancePercent: 20,
  closedBelowOhms: 100,
  resistorTolerancePercent: 1,
}
const one = (place: 'seriesOhms' | 'parallelOhms', ohms: number): LoopPoint => ({
  ...plainPoint,
  loop: 'one resistor',
  [place]: ohms,
})
const two = (seriesOhms: number | null, parallelOhms: number | null): LoopPoint => ({
  ...plainPoint,
  loop: 'two resistors',
  seriesOhms,
  parallelOhms,
})

const asMarked = { known: true, value: false, origin: null } as const
const contact = (
  states: Readonly<Record<string, boolean>>,
  more: Partial<LoopContact> = {},
): LoopContact => ({
  name: 'Leaf',
  form: 'normally open',
  wiredTo: null,
  states: Object.entries(states).map(([circumstance, closed]) => ({ circumstance, closed })),
  turnedRound: asMarked,
  ...more,
})
/** Closed while all is well: what a loop calls normally closed. */
const closedWhenShut = contact({ 'door shut': true, 'door open': false })
const openAtRest = contact({ 'at rest': false, 'exit asked': true }, { name: 'Signal' })

const wire = { size: '22 AWG', stranded: true }
const cable = (
  lengthMetres: number | null,
  conductor: { size: string | null; stranded: boolean } = wire,
): LoopCable => ({
  known: true,
  celsius: { lowest: 20, highest: 20 },
  legs: [{ name: 'the run', lengthMetres, out: conductor, back: conductor }],
})
const noCable: LoopCable = { known: true, celsius: { lowest: 20, highest: 20 }, legs: [] }

const seen = ({ states }: LoopStates): Record<string, string> =>
  Object.fromEntries(
    states.map(({ circumstance, meaning, reading }) => [
      circumstance,
      `${meaning}: ${reading.form === 'ohms' && reading.markedOhms > 0 ? `${reading.markedOhms} ohm` : reading.form === 'ohms' ? 'closed' : reading.form}`,
    ]),
  )
const pairs = ({ toldApart }: LoopStates): Record<string, string> =>
  Object.fromEntries(toldApart.pairs.map(({ one: first, other, answer }) => [`${first}/${other}`, answer]))
const codes = ({ disagreements }: LoopStates): string[] => disagreements.map(({ code }) => code)

describe('readings without cable', () => {
  const shut = 'door shut'
  test.each<[string, LoopPoint, LoopContact, Record<string, string>, string]>([
    [
      'double, closed while normal: 2.2 k / 10.4 k / open / short',
      two(2200, 8200),
      closedWhenShut,
      {
        [shut]: 'normal: 2200 ohm',
        'door open': 'active: 10400 ohm',
        'cable cut': 'cut: open circuit',
        'cable shorted': 'short: closed',
      },
      '[S112]',
    ],
    [
      'double, open while normal: R1 + R2 normal, R1 active',
      two(2200, 8200),
      openAtRest,
      {
        'at rest': 'normal: 10400 ohm',
        'exit asked': 'active: 2200 ohm',
        'cable cut': 'cut: open circuit',
        'cable shorted': 'short: closed',
      },
      '[S112][S113]',
    ],
    [
      'single in line: R normal, open active',
      one('seriesOhms', 10_000),
      closedWhenShut,
      {
        [shut]: 'normal: 10000 ohm',
        'door open': 'active: open circuit',
        'cable cut': 'cut: open circuit',
        'cable shorted': 'short: closed',
      },
      '[S112], 10 k [S114]',
    ],
    [
      'single across: R normal, short active, open trouble',
      one('parallelOhms', 4700),
      openAtRest,
      {
        'at rest': 'normal: 4700 ohm',
        'exit asked': 'active: closed',
        'cable cut': 'cut: open circuit',
        'cable shorted': 'short: closed',
      },
      '[S112], 4.7 k [S115]',
    ],
    [
      'plain, closed while normal',
      plainPoint,
      closedWhenShut,
      {
        [shut]: 'normal: closed',
        'door open': 'active: open circuit',
        'cable cut': 'cut: open circuit',
        'cable shorted': 'short: closed',
      },
      '[S112]',
    ],
    [
      'plain, open while normal',
      plainPoint,
      openAtRest,
      {
        'at rest': 'normal: open circuit',
        'exit asked': 'active: closed',
        'cable cut': 'cut: open circuit',
        'cable shorted': 'short: closed',
      },
      '[S112]',
    ],
  ])('%s', (_what, point, of, expected) => {
    expect(seen(loopStates(point, of, noCable))).toEqual(expected)
  })
})

describe('what can be told apart', () => {
  test.each<[string, LoopPoint, LoopContact, Record<string, string>, string]>([
    [
      'double: all four',
      two(2200, 8200),
      closedWhenShut,
      {
        'normal/active': 'yes',
        'normal/cut': 'yes',
        'normal/short': 'yes',
        'active/cut': 'yes',
        'active/short': 'yes',
        'cut/short': 'yes',
      },
      '[S112]',
    ],
    [
      'single in line: active is not told from a cut',
      one('seriesOhms', 10_000),
      closedWhenShut,
      {
        'normal/active': 'yes',
        'normal/cut': 'yes',
        'normal/short': 'yes',
        'active/cut': 'no',
        'active/short': 'yes',
        'cut/short': 'yes',
      },
      '[S112]',
    ],
    [
      'single across: active is not told from a short',
      one('parallelOhms', 10_000),
      openAtRest,
      {
        'normal/active': 'yes',
        'normal/cut': 'yes',
        'normal/short': 'yes',
        'active/cut': 'yes',
        'active/short': 'no',
        'cut/short': 'yes',
      },
      '[S112]',
    ],
    [
      'plain, closed: a short looks normal, a cut looks active',
      plainPoint,
      closedWhenShut,
      {
        'normal/active': 'yes',
        'normal/cut': 'yes',
        'normal/short': 'no',
        'active/cut': 'no',
        'active/short': 'yes',
        'cut/short': 'yes',
      },
      'arithmetic',
    ],
    [
      'plain, limit not told',
      { ...plainPoint, closedBelowOhms: null },
      closedWhenShut,
      {
        'normal/active': 'not known',
        'normal/cut': 'not known',
        'normal/short': 'no',
        'active/cut': 'no',
        'active/short': 'not known',
        'cut/short': 'not known',
      },
      'arithmetic',
    ],
    [
      '1 k + 1 k at ± 40 %: 600-1400 meets 1200-2800',
      { ...two(1000, 1000), tolerancePercent: 40 },
      closedWhenShut,
      {
        'normal/active': 'no',
        'normal/cut': 'yes',
        'normal/short': 'yes',
        'active/cut': 'yes',
        'active/short': 'yes',
        'cut/short': 'yes',
      },
      'arithmetic',
    ],
    [
      'the normal state is not told: what is so either way is still so',
      two(2200, 8200),
      contact({ 'door open': false }),
      {
        'normal/active': 'yes',
        'normal/cut': 'yes',
        'normal/short': 'yes',
        'active/cut': 'yes',
        'active/short': 'yes',
        'cut/short': 'yes',
      },
      'arithmetic',
    ],
    [
      'the same with one resistor: whichever is active decides',
      one('seriesOhms', 10_000),
      contact({ 'door open': false }),
      {
        'normal/active': 'yes',
        'normal/cut': 'not known',
        'normal/short': 'yes',
        'active/cut': 'not known',
        'active/short': 'yes',
        'cut/short': 'yes',
      },
      'arithmetic',
    ],
  ])('%s', (_what, point, of, expected) => {
    expect(pairs(loopStates(point, of, cable(30)))).toEqual(expected)
  })

  test('1 k + 1 k stays apart below a third: (2 - 1) / (2 + 1)', () => {
    const { toldApart } = loopStates({ ...two(1000, 1000), tolerancePercent: 10 }, closedWhenShut, cable(30))
    expect(toldApart.worksBelowPercent).toBeCloseTo(33.33, 1)
    // 30 m of 22 AWG out and back at 20 °C is 3.24 ohm, with 10 ohm for 1 % of the resistor: 1.32 % of 1 k.
    expect(toldApart.worksFromPercent).toBeCloseTo(1.32, 2)
    expect(toldApart.marginPercent).toBeCloseTo(8.68, 2)
    expect(toldApart.answer).toBe('yes')
  })

  test.each([
    // 22 AWG out and back, stranded, at 20 °C: 0.108 ohm for each metre.
    [150, /^Normal and active cannot be told apart: ± 10 % is too narrow .* at least 17 %\.$/],
    [320, /^Normal and active cannot be told apart: .* leave no room between the resistances\.$/],
  ])('%i m of thin cable on 100 ohm + 100 ohm', (metres, sentence) => {
    const found = loopStates({ ...two(100, 100), tolerancePercent: 10 }, closedWhenShut, cable(metres))
    expect(found.toldApart.pairs[0]?.words).toMatch(sentence)
  })

  test.each([
    [
      'of the input',
      { tolerancePercent: null },
      'How many percent may a reading of 118 contact differ from its resistor?',
    ],
    [
      'of the resistors',
      { resistorTolerancePercent: null },
      'Which tolerance have the resistors of 118 contact?',
    ],
  ])('without the tolerance %s it is a question, with what would do', (_what, more, question) => {
    const { toldApart } = loopStates({ ...two(1000, 1000), ...more }, closedWhenShut, cable(30))
    expect(toldApart.answer).toBe('not known')
    expect(toldApart.pairs[0]?.words).toMatch(/may not be told apart: a tolerance from .* % up to 33.3 %/)
    expect(toldApart.questions.map(({ words }) => words)).toContain(question)
  })
})

describe('the cable counts, out and back', () => {
  test('100 m of 22 AWG at 20 °C adds 2 x 5.296 ohm, 2 % for strands', () => {
    // 52.96 ohm per km: ASTM B258 [S101], [S103].
    const { whenClosed } = loopStates(
      { ...two(1000, 1000), resistorTolerancePercent: 0 },
      closedWhenShut,
      cable(100),
    )
    expect(whenClosed.form === 'ohms' ? whenClosed.lowOhms : 0).toBeCloseTo(1000 + 2 * 5.296 * 1.02, 1)
  })

  test('a short reads from nothing to the far end', () => {
    const { states } = loopStates(two(1000, 1000), closedWhenShut, cable(100))
    expect(states.at(-1)?.words).toBe('0 to 10.8 ohm')
  })

  test('the figures of the working are those of the reading', () => {
    const [state] = loopStates(two(1000, 1000), closedWhenShut, cable(100)).states
    expect(state?.steps.map(({ what }) => what)).toEqual([
      'Metal of 22 AWG',
      'the run, out, 100 m, 20 to 20 °C',
      'Metal of 22 AWG',
      'the run, back, 100 m, 20 to 20 °C',
      'Cable, out and back',
      'Contact closed',
      'At the controller',
    ])
    expect(state?.steps.at(-1)?.result).toBe(state?.words)
  })

  test.each<[string, LoopCable, string]>([
    ['no length', cable(null), 'How long is the run, out?'],
    ['no size', cable(30, { size: null, stranded: true }), 'Which size are the conductors of the run, out?'],
    ['no run', { known: false, question: { words: 'Which run?', whoCanSay: 'x' } }, 'Which run?'],
  ])('%s: not known with the question, but a cut is still open', (_what, of, question) => {
    const found = loopStates(two(1000, 1000), closedWhenShut, of)
    expect(found.states.map(({ words }) => words)).toEqual([
      'not known',
      'not known',
      'open circuit',
      'not known',
    ])
    expect(found.questions.map(({ words }) => words)).toContain(question)
    expect(found.toldApart.answer).toBe('not known')
  })

  test('without its cable, an active single loop is still known to look like a cut', () => {
    const found = loopStates(one('seriesOhms', 1000), closedWhenShut, cable(null))
    expect(pairs(found)['active/cut']).toBe('no')
  })
})

describe('contact and point', () => {
  test.each<[string, LoopPoint, LoopContact, string[]]>([
    [
      'one across, closed while normal',
      one('parallelOhms', 1000),
      closedWhenShut,
      ['resistor across a contact that is closed while normal'],
    ],
    [
      'one in line, open while normal',
      one('seriesOhms', 1000),
      openAtRest,
      ['resistor in line with a contact that is open while normal'],
    ],
    ['one in line, closed while normal', one('seriesOhms', 1000), closedWhenShut, []],
    [
      'taken for active',
      { ...two(1000, 1000), normally: 'open' },
      closedWhenShut,
      ['normal is taken for active'],
    ],
    ['taken as it is', { ...two(1000, 1000), normally: 'closed' }, closedWhenShut, []],
    [
      'plain with a resistor',
      { ...plainPoint, seriesOhms: 1000 },
      closedWhenShut,
      ['resistor not asked for'],
    ],
    [
      'one with two told',
      { ...one('seriesOhms', 1000), parallelOhms: 1000 },
      closedWhenShut,
      ['resistor not asked for'],
    ],
    ['no ohms', two(0, 1000), closedWhenShut, ['no resistance']],
    [
      'never changes',
      two(1000, 1000),
      contact({ 'door shut': true, 'door open': true }),
      ['contact never changes'],
    ],
    [
      'what it does without power is no change asked of it',
      two(1000, 1000),
      contact({ 'at rest': false, 'no power': false }),
      [],
    ],
  ])('%s', (_what, point, of, expected) => {
    expect(codes(loopStates(point, of, noCable))).toEqual(expected)
  })

  test.each<[string, LoopContact, string[]]>([
    [
      'a jumper turns rest and change round, not what it does without power',
      contact(
        { 'at rest': false, 'exit asked': true, 'no power': false },
        { turnedRound: { known: true, value: true, origin: 'x' } },
      ),
      ['at rest closed normal', 'exit asked open active', 'no power open active'],
    ],
    [
      'a changeover contact by its normally closed side',
      contact(
        { 'at rest': false, 'exit asked': true, 'no power': false },
        { form: 'changeover', wiredTo: 'normally closed' },
      ),
      ['at rest closed normal', 'exit asked open active', 'no power closed normal'],
    ],
    [
      'a changeover contact, nobody said which side',
      contact({ 'at rest': false, 'exit asked': true }, { form: 'changeover' }),
      ['at rest null not known', 'exit asked null not known'],
    ],
    [
      'a jumper that nobody noted',
      contact(
        { 'at rest': false, 'no power': false },
        { turnedRound: { known: false, question: { about: 'setting', thing: 'S1', setting: 'Contact' } } },
      ),
      ['at rest null not known', 'no power open not known'],
    ],
  ])('%s', (_what, of, expected) => {
    const { states } = loopStates(two(1000, 1000), of, noCable)
    expect(states.slice(0, -2).map((each) => `${each.circumstance} ${each.contact} ${each.meaning}`)).toEqual(
      expected,
    )
  })

  test.each<[string, LoopPoint, LoopContact | null, string]>([
    ['no contact', two(1000, 1000), null, 'Which contact is in the loop of 118 contact?'],
    [
      'no usual circumstance',
      two(1000, 1000),
      contact({ 'door open': false }),
      'Is Leaf of 118 contact open or closed while all is as it should be?',
    ],
    [
      'two usual circumstances that differ',
      two(1000, 1000),
      contact({ 'door shut': true, 'bolt thrown': false }),
      'Is Leaf of 118 contact open or closed while all is as it should be?',
    ],
    [
      'no loop',
      { ...plainPoint, loop: null },
      closedWhenShut,
      'Which loop does 118 contact expect: plain, one resistor or two?',
    ],
    [
      'one resistor somewhere',
      { ...plainPoint, loop: 'one resistor' },
      closedWhenShut,
      'Is the one resistor of 118 contact in line with the contact or across it, and how many ohms?',
    ],
    [
      'half a pair',
      two(2200, null),
      closedWhenShut,
      'How many ohms is the resistor across the contact of 118 contact?',
    ],
  ])('%s is a question', (_what, point, of, question) => {
    expect(loopStates(point, of, cable(30)).questions.map(({ words }) => words)).toContain(question)
  })

  test('half a pair still gives the half that is known', () => {
    const found = loopStates(two(2200, null), closedWhenShut, noCable)
    expect([readingWords(found.whenClosed), readingWords(found.whenOpen)]).toEqual([
      '2178 to 2222 ohm',
      'not known',
    ])
  })
})

describe('properties', () => {
  const ohms = fc.option(fc.integer({ min: 1, max: 50_000 }))
  const points = fc.record({
    name: fc.constant('p'),
    loop: fc.option(fc.constantFrom('plain', 'one resistor', 'two resistors')),
    seriesOhms: ohms,
    parallelOhms: ohms,
    normally: fc.option(fc.constantFrom('closed', 'open')),
    tolerancePercent: fc.option(fc.integer({ min: 1, max: 60 })),
    closedBelowOhms: fc.option(fc.integer({ min: 1, max: 500 })),
    resistorTolerancePercent: fc.option(fc.integer({ min: 0, max: 10 })),
  }) as fc.Arbitrary<LoopPoint>
  const contacts = fc
    .dictionary(
      fc.constantFrom('at rest', 'door shut', 'door open', 'exit asked', 'no power'),
      fc.boolean(),
      { noNullPrototype: true },
    )
    .map((states) => contact(states))
  const lengths = fc.option(fc.integer({ min: 0, max: 500 }))

  test('the order in which circumstances stand changes nothing', () => {
    fc.assert(
      fc.property(points, contacts, lengths, (point, of, length) => {
        const turned = { ...of, states: of.states.toReversed() }
        expect(loopStates(point, turned, cable(length))).toEqual(loopStates(point, of, cable(length)))
      }),
    )
  })

  test('a missing fact never becomes a figure, nor “yes”', () => {
    fc.assert(
      fc.property(points, contacts, (point, of) => {
        const { states, whenClosed, whenOpen, toldApart, questions } = loopStates(point, of, cable(null))
        for (const { reading } of states) expect(reading.form).not.toBe('ohms')
        expect([whenClosed.form, whenOpen.form]).not.toContain('ohms')
        expect(toldApart.marginPercent).toBeNull()
        for (const { one: first, other, answer } of toldApart.pairs)
          expect(`${first}/${other} ${answer}`).not.toMatch(/yes/)
        expect(questions.length).toBeGreaterThan(0)
      }),
    )
  })

  test('telling one more fact never turns “yes” into “no” or back', () => {
    const facts = ['tolerancePercent', 'closedBelowOhms', 'resistorTolerancePercent'] as const
    fc.assert(
      fc.property(points, contacts, lengths, fc.constantFrom(...facts), (point, of, length, fact) => {
        const before = pairs(loopStates({ ...point, [fact]: null }, of, cable(length)))
        const after = pairs(loopStates(point, of, cable(length)))
        for (const [pair, answer] of Object.entries(before))
          if (answer !== 'not known') expect([pair, after[pair]]).toEqual([pair, answer])
      }),
    )
  })

  test('more cable never lowers a reading', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 1, max: 100 }), (length, more) => {
        const high = (metres: number): number => {
          const { whenClosed } = loopStates(two(1000, 1000), closedWhenShut, cable(metres))
          return whenClosed.form === 'ohms' ? whenClosed.highOhms : NaN
        }
        expect(high(length + more)).toBeGreaterThan(high(length))
      }),
    )
  })
})

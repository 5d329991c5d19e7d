// Doorways that random tests found, or that a look at what they found led to: each answer once stood without its reason
// or its question.
import { expect, test } from 'vitest'
import {
  judge,
  known,
  secured,
  sentencesOf,
  unknown,
  type Device,
  type Doorway,
  type HoldingElement,
  type Passage,
} from '../../../core/behaviour/index.ts'
import {
  arrange,
  feedFrom,
  holdOpen,
  parallel,
  passageInShort,
  series,
  supply,
  through,
} from './arrangements.ts'

const notTold = { form: 'not told', question: { about: 'feed', thing: 'bolt E1' } } as const
const always: HoldingElement['engaged'] = { when: 'always' }

const bolt = (engaged: HoldingElement['engaged'], more: Partial<HoldingElement> = {}): HoldingElement => ({
  id: 'E1',
  name: 'bolt E1',
  leaf: 'leaf',
  grip: { form: 'latches', keeper: null, relatches: known(true) },
  engaged,
  drawnBy: [],
  delay: null,
  ...more,
})

const fed = (feed: ReturnType<typeof through>): HoldingElement['engaged'] => ({
  when: 'by its feed',
  holdsWhile: known('fed'),
  feed,
  releasedBy: [],
})

/** A strike that lets pass: it holds while fed, and its feed has a gap. */
const strikeLetGo: HoldingElement = {
  ...bolt(fed(feedFrom('PS1', { form: 'parallel', of: [] }))),
  id: 'K1',
  name: 'strike K1',
  grip: { form: 'keeps a latch' },
}
const caughtByStrike = { grip: { form: 'latches', keeper: 'K1', relatches: known(true) } } as const

const handles = (...ids: readonly string[]): Doorway['hardware'] =>
  ids.map((id) => ({ id, name: `the handle ${id}`, leaf: 'leaf', side: 'egress', motion: 'lever' }))

/** A switch worked by a handle: `nc` opens and `no` closes with it. */
const switchOf = (handle: string): Device => ({
  id: `switch ${handle}`,
  name: `switch ${handle}`,
  workedAs: null,
  workedWith: handle,
  needsPower: false,
  contacts: (['closed', 'open'] as const).map((atRest) => ({
    name: atRest === 'closed' ? 'nc' : 'no',
    atRest: known(atRest),
    turnedRound: known(false),
    changes: [
      {
        cause: { on: 'worked' },
        to: known(atRest === 'closed' ? 'open' : 'closed'),
        lasting: { form: 'as long as its cause' },
      },
    ],
  })),
})

interface Row {
  readonly found: string
  readonly doorway: Doorway
  readonly passage: 'in' | 'out'
  readonly answer: string
  readonly margin: readonly string[]
}

const rows: readonly Row[] = [
  {
    found: 'a latch that may or may not be out, and a strike that lets it pass',
    doorway: arrange({ elements: [bolt(fed(feedFrom('PS1', notTold)), caughtByStrike), strikeLetGo] }),
    passage: 'in',
    answer: 'free',
    margin: ['Strike K1 is not fed and lets go.', 'Strike K1 lets bolt E1 pass.'],
  },
  {
    found: 'a bolt thrown by hand that nobody looked at, and a strike that lets it pass',
    doorway: arrange({
      elements: [
        bolt({ when: 'by hand', thrown: unknown({ about: 'thrown', thing: 'bolt E1' }) }, caughtByStrike),
        strikeLetGo,
      ],
    }),
    passage: 'in',
    answer: 'free',
    margin: ['Strike K1 is not fed and lets go.', 'Strike K1 lets bolt E1 pass.'],
  },
  {
    found: 'a handle that draws a bolt which its own switch throws, while another bolt needs the handle',
    doorway: arrange({
      hardware: handles('H1'),
      devices: [switchOf('H1')],
      elements: [
        bolt(fed(through('switch H1/no')), { drawnBy: ['H1'] }),
        bolt(fed(through('switch H1/nc')), { id: 'E2', name: 'bolt E2' }),
      ],
    }),
    passage: 'out',
    answer: 'free by hw',
    margin: [
      'One motion of the handle H1 draws bolt E1.',
      'The motion of the handle H1 works switch H1, which opens the feed of bolt E2.',
      'Bolt E2 is not fed and is drawn.',
    ],
  },
  {
    found: 'a doubt that only two of three handles together bring up',
    doorway: arrange({
      hardware: handles('H1', 'H2', 'H3'),
      devices: ['H1', 'H2', 'H3'].map(switchOf),
      elements: [
        bolt(fed(through(parallel('switch H1/nc', 'switch H2/nc', 'switch H3/no', series({ ...notTold }))))),
      ],
    }),
    passage: 'out',
    answer: 'not known',
    margin: [
      'Nothing asks bolt E1 for release.',
      'Bolt E1 is fed from PS1 and stays thrown.',
      'Not known: What feeds bolt E1?',
    ],
  },
  {
    found: 'a leaf of which nobody knows whether it is held open, over a bolt that holds',
    doorway: arrange(
      { elements: [bolt(always)] },
      supply('PS1', { hours: 4 }),
      holdOpen('H1', {
        from: known('PS1'),
        through: { form: 'not told', question: { about: 'feed', thing: 'H1' } },
      }),
    ),
    passage: 'out',
    answer: 'not known',
    margin: ['Not known: What feeds H1?', 'Bolt E1 is thrown.'],
  },
]

test.each(rows)('$found', ({ doorway, passage, answer, margin }) => {
  const found: Passage = judge(doorway, secured)[passage]
  expect(passageInShort(found)).toBe(answer)
  expect(sentencesOf(found)).toEqual(margin)
  if (found.form === 'not known') expect(found.missing.length).toBeGreaterThan(0)
})

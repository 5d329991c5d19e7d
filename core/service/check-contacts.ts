// What stands between the feed and what holds: each contact at its terminals, and whether something still asks.
import type { Draft, Evidence } from './check.ts'
import type { ChainContact, Holder, Scene } from './scene.ts'
import type { Symptom } from './symptoms.ts'

const and = (terminals: string): string => terminals.replace(/, ([^,]*)$/, ' and $1')

const relayWords = ({ output }: ChainContact): string =>
  `The relay of ${output === null ? 'the controller' : output.controller}`

const placeOf = ({ called, contact, terminals, output, device }: ChainContact): string =>
  output !== null
    ? `${output.controller}, relay of output ${output.point}`
    : terminals === null
      ? `${called === '' ? device.name : called}, contact ${contact}`
      : `${called}, terminals ${and(terminals)} (${contact})`

/** A closed contact drops next to nothing; an open one has the whole feed across it. Common practice, no source. */
function acrossWords(state: 'closed' | 'open', nominal: number | null): string {
  if (state === 'closed') return 'closed: next to 0 V across it while the feed is on'
  return nominal === null ? 'open: the whole feed across it' : `open: about ${nominal} V across it`
}

const nominalOf = ({ fed }: Holder): number | null => fed?.from?.nominalVolts ?? null

/** Contacts that would have to be otherwise than they are at rest for the symptom to be. */
export function contactDrafts(scene: Scene, symptom: Symptom): Draft[] {
  if (symptom !== 'will not lock' && symptom !== 'relocks late' && symptom !== 'dead') return []
  return scene.holders.flatMap((holder) => {
    if (holder.holdsWhile === null || holder.element.grip.form === 'holds the leaf open') return []
    if (symptom === 'dead' && holder.holdsWhile !== 'fed') return []
    return holder.chain.map((contact, index) => restDraft(holder, contact, index, symptom))
  })
}

function restDraft(holder: Holder, contact: ChainContact, index: number, symptom: Symptom): Draft {
  const { called, lasts, atRest, howWorked, fitting, output, isRelay, device, terminals } = contact
  const late = symptom === 'relocks late'
  const evidence: Evidence[] = []
  const place = placeOf(contact)
  const across = atRest === null ? null : acrossWords(atRest, nominalOf(holder))
  const lock = holder.called
  const asks =
    holder.holdsWhile === 'fed' ? `takes the feed off ${lock}` : `gives ${lock} the feed that releases it`
  const core = {
    key: `contact ${device.id} ${contact.contact}`,
    form: 'contact' as const,
    at: place,
    question: atRest === null ? `Is contact ${contact.contact} of ${called} closed or open at rest?` : null,
    fittingId: fitting?.fitting?.id ?? null,
    evidence,
  }
  if (isRelay)
    return {
      ...core,
      look: `See at the controller whether it holds ${output === null ? lock : `output ${output.point}`} released, in open hours or by hand, then measure its relay.`,
      expected: across === null ? null : `not released; relay ${across}`,
      usual: {
        points: late ? 48 : 50,
        words: `${relayWords(contact)} ${asks} as long as anything orders a release.`,
      },
      otherwise: `${called} still orders the release: look at its open hours and at each input that asks. If it does not and the relay is otherwise, the relay has stuck.`,
    }
  if (lasts === 'until reset')
    return {
      ...core,
      look: `See whether ${called} still stands released since an alarm${terminals === null ? '' : `, and measure between ${and(terminals)}`}.`,
      expected: across === null ? null : `reset; ${across}`,
      usual: {
        points: late ? 20 : 55,
        words: `${called} ${asks} until it is reset, whoever is at the door.`,
      },
      otherwise: `Somebody has to reset what works ${called} before ${lock} can hold; a fire alarm is reset only by those who answer for it.`,
      caution: 'Do not bridge it: it lets people out on alarm.',
    }
  const timed = typeof lasts === 'number' ? ` for ${lasts} s` : ''
  return {
    ...core,
    look: lookWords(contact),
    expected: across === null ? null : `${restWords[howWorked ?? 'press']}; ${across}`,
    usual: {
      points: (howWorked === 'approach' ? 60 : howWorked === 'staff' ? 57 : 54) - index * 0.5,
      words: `${called} ${asks} itself${timed} each time it is worked${howWorked === 'approach' ? ', and what it sees keeps it so' : ''}.`,
    },
    otherwise:
      howWorked === 'approach'
        ? `If ${called} still asks with nobody there, something moves or warms in its view, or it has lost its own feed. If nothing asks and the contact is otherwise, ${called} is to be changed.`
        : `If ${called} is at rest and the contact is otherwise, it sticks or its conductors are off; ${called} is to be put right or changed.`,
    caution:
      howWorked === 'approach' || howWorked === 'press'
        ? `Do not bridge ${called}: it lets people out.`
        : null,
  }
}

const restWords = {
  approach: 'it sees nobody',
  press: 'not pressed, its time run out',
  hardware: 'its hardware at rest',
  key: 'key turned back',
  credential: 'nothing shown',
  staff: 'at rest',
} as const

function lookWords({ called, howWorked, terminals }: ChainContact): string {
  const measure = terminals === null ? '' : ` Then measure between ${and(terminals)}.`
  switch (howWorked) {
    case 'approach':
      return `Stand clear of ${called} and see whether it still asks.${measure}`
    case 'staff':
    case 'key':
      return `See whether ${called} was left worked.${measure}`
    default:
      return `See whether ${called} is at rest.${measure}`
  }
}

/** What must change when somebody asks: each contact that lets go, worked by hand and measured. */
export function releaseDrafts(scene: Scene): Draft[] {
  return scene.holders.flatMap((holder) => {
    if (holder.holdsWhile === null) return []
    return holder.chain
      .filter(({ atRest }) => atRest !== null)
      .map((contact, index): Draft => {
        const { called, atRest, fitting, output, isRelay, device, lasts, howWorked } = contact
        const worked = atRest === 'closed' ? 'open' : 'closed'
        const across = acrossWords(worked, nominalOf(holder))
        const isAlarm = lasts === 'until reset'
        const core = {
          key: `release ${device.id} ${contact.contact}`,
          form: 'contact' as const,
          at: placeOf(contact),
          expected: across,
          fittingId: fitting?.fitting?.id ?? null,
        }
        const deed = isRelay
          ? `Have ${output === null ? 'the controller' : output.controller} release ${output === null ? holder.called : `output ${output.point}`} and measure its relay`
          : isAlarm
            ? `Measure ${called} while the alarm is tested by those who answer for it`
            : `${howWorked === 'approach' ? `Walk up to ${called}` : `Work ${called}`} and measure between its terminals meanwhile`
        return {
          ...core,
          look: `${deed}.`,
          usual: {
            points: (isRelay ? 52 : isAlarm ? 34 : howWorked === 'approach' ? 60 : 58) - index * 0.5,
            words:
              holder.holdsWhile === 'fed'
                ? `${called} lets ${holder.called} go by opening its feed itself.`
                : `${called} lets ${holder.called} go by giving it its feed.`,
          },
          otherwise: isRelay
            ? `${called} does not order it: look at the input that asks, its loop, and what the controller was told. If it does, the relay or its conductors have failed.`
            : `${called} does not change: see that it is fed and that its contact is wired to these terminals, and change it.`,
          caution: isAlarm
            ? 'Tell the building, the monitoring station and the fire alarm contractor before the alarm is brought on, and again when it is over.'
            : null,
        }
      })
  })
}

// The door itself: leaf, latch, closer, armature. Nothing electric helps where these are wrong.
import type { Draft } from './check.ts'
import type { Holder, Scene } from './scene.ts'
import type { Symptom } from './symptoms.ts'

export function doorDrafts(scene: Scene, symptom: Symptom): Draft[] {
  switch (symptom) {
    case 'will not lock':
      return [...shutDrafts(scene, 56, true), ...seatDrafts(scene, 45)]
    case 'relocks late':
      return shutDrafts(scene, 50, false)
    case 'weak hold':
      return seatDrafts(scene, 62)
    case 'will not release':
      return preloadDrafts(scene)
    case 'forced alarm':
      return playDrafts(scene)
    case 'alarm when opened':
      return untoldDrafts(scene)
    default:
      return []
  }
}

/** What shuts the leaf: with a closer it must do it alone; without one nobody can count on it. */
function shutDrafts({ behaviour }: Scene, points: number, needsLock: boolean): Draft[] {
  const { leaves = [], elements = [] } = behaviour?.doorway ?? {}
  if (needsLock && elements.length === 0) return []
  return leaves.map((leaf): Draft => {
    const itself = leaf.shutsItself.known && leaf.shutsItself.value
    const latches = elements.some(({ leaf: on, grip }) => on === leaf.id && grip.form === 'latches')
    return {
      key: `shuts ${leaf.id}`,
      form: 'look',
      look: itself
        ? `Let the ${leaf.name} go from a hand's breadth open, ten times.`
        : `Shut the ${leaf.name} by hand and see whether it comes home.`,
      at: `the ${leaf.name}`,
      expected: `${itself ? 'shuts by itself' : 'shuts'} onto the stop${latches ? ' and latches' : ''}, each time`,
      usual: {
        points: points + (itself ? 0 : 2),
        words: itself
          ? 'What holds can only hold a leaf that is home, and it needs no tool to see.'
          : 'Nothing is known to shut this leaf by itself, so it may simply stand open.',
      },
      otherwise:
        'Free what rubs, set the closer or the strike, and try again before anything electric is opened.',
    }
  })
}

const gripWords = (holder: Holder): { readonly what: string; readonly right: string } | null => {
  switch (holder.element.grip.form) {
    case 'holds the leaf':
      return {
        what: `Look at the faces of ${holder.called} and its armature`,
        right: 'clean, flat on each other, the armature free to tilt',
      }
    case 'keeps a latch':
      return {
        what: `Look at ${holder.called} and the latch in it`,
        right: 'the latch drops in with play and the keeper springs back',
      }
    case 'latches':
      return {
        what: `Work what draws the latch of ${holder.called} and let it go`,
        right: 'the latch springs out in full and finds its hole',
      }
    case 'blocks hardware':
      return {
        what: `Try the lever or pad that ${holder.called} locks`,
        right: 'it is locked while nobody asks',
      }
    case 'holds the leaf open':
      return null
  }
}

function seatDrafts({ holders }: Scene, points: number): Draft[] {
  return holders.flatMap((holder): Draft[] => {
    const words = gripWords(holder)
    if (words === null) return []
    return [
      {
        key: `seat ${holder.element.id}`,
        form: 'look',
        look: `${words.what}.`,
        at: holder.called,
        expected: words.right,
        usual: {
          points: points + (holder.holdsWhile === null ? 14 : 0),
          words:
            holder.holdsWhile === null
              ? `${holder.called} holds by no feed: what is wrong with it can be seen and felt.`
              : `It is all that is left where ${holder.called} has its volts.`,
        },
        otherwise: 'Clean, align or change it; shims, paint and loose screws are usual.',
        fittingId: holder.fitting?.fitting?.id ?? null,
      },
    ]
  })
}

/** A leaf that presses, once for each fitting that holds; and what a hand works, where no feed is needed. */
function preloadDrafts({ holders, behaviour }: Scene): Draft[] {
  const pressed = holders
    .filter(({ element }) => isPressed(element.grip))
    .map((holder): Draft => {
      const isMagnet = holder.element.grip.form === 'holds the leaf'
      return {
        key: `preload ${holder.called}`,
        form: 'look',
        look: 'Push the leaf shut with a hand and try once more.',
        at: holder.called,
        expected: 'it makes no difference',
        usual: {
          points: isMagnet ? 40 : 66,
          words: isMagnet
            ? 'A leaf under tension can feel held when it is not.'
            : `A leaf that presses on ${holder.called} keeps it from letting go, and it needs no tool to see.`,
        },
        otherwise:
          'The leaf presses: find the seal, the closer or the sagging hinge before the lock is changed.',
        fittingId: holder.fitting?.fitting?.id ?? null,
      }
    })
  const { hardware = [], elements = [] } = behaviour?.doorway ?? {}
  const worked = hardware.flatMap((each): Draft[] => {
    const drawn = elements.filter(({ drawnBy }) => drawnBy.includes(each.id))
    if (drawn.length === 0) return []
    return [
      {
        key: `works ${each.id}`,
        form: 'look',
        look: `Work ${each.name} with the leaf held open and watch what it draws.`,
        at: each.name,
        expected: `draws ${drawn.map(({ name }) => name).join(' and ')} in full`,
        usual: {
          points: each.side === 'egress' ? 64 : 46,
          words: `${capital(each.name)} draws it by hand, without any feed.`,
        },
        otherwise: 'It is worn, loose or locked: free it, or change it.',
      },
    ]
  })
  return [...pressed, ...worked]
}

/** A latch that a strike catches presses on the strike. */
const isPressed = (grip: Holder['element']['grip']): boolean =>
  grip.form === 'holds the leaf' ||
  grip.form === 'keeps a latch' ||
  (grip.form === 'latches' && grip.keeper === null)

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

function playDrafts({ holders, loops }: Scene): Draft[] {
  if (loops.length === 0) return []
  const holder = holders.find(({ element }) => element.grip.form !== 'holds the leaf open')
  if (holder === undefined) return []
  return [
    {
      key: 'play of the leaf',
      form: 'look',
      look: 'Push and pull the shut leaf as a draught would.',
      at: `the leaf, against ${holder.called}`,
      expected: 'next to no play',
      usual: { points: 60, words: 'A leaf that moves in its play can open its own contact.' },
      otherwise: 'Take the play out, or bring the contact nearer.',
    },
  ]
}

/** Hardware that lets out of a watched leaf without telling anybody: opening it is an alarm by design. */
function untoldDrafts({ behaviour, loops }: Scene): Draft[] {
  if (loops.length === 0) return []
  const { hardware = [], devices = [] } = behaviour?.doorway ?? {}
  return hardware
    .filter(({ side, motion }) => side === 'egress' && motion !== 'key')
    .filter(({ id }) => {
      const device = devices.find(({ workedWith }) => workedWith === id)
      return device === undefined || !loops.some(({ fitting }) => device.id.startsWith(fitting.tag))
    })
    .map((each) => ({
      key: `untold ${each.id}`,
      form: 'look',
      look: `Leave by ${each.name} and see whether the controller is told.`,
      at: each.name,
      expected: null,
      question: `Which input is told that ${each.name} is worked?`,
      usual: {
        points: 72,
        words: `${capital(each.name)} lets out, and no input of a controller is wired to a switch in it.`,
      },
      otherwise:
        'If nothing tells the controller, every leaving counts as forced: a switch or a sensor is missing.',
    }))
}

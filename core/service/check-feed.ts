// Volts at the device, and back along its feed: fuse, output, supply, battery.
import { batteryReplacementMonths } from '../handover/index.ts'
import { voltWords } from '../power/index.ts'
import type { Draft, Evidence } from './check.ts'
import type { FedDevice } from './fed.ts'
import type { Holder, Scene } from './scene.ts'
import type { Symptom } from './symptoms.ts'

const inside = 'Mains is inside a supply: only somebody licensed for it opens the cover.'
const sameFuse =
  'Take the load off before a fuse is drawn, find out why it went, and put in the same rating only.'

const placeOf = ({ tag, terminals }: FedDevice): string =>
  `${tag}${terminals === null ? '' : `, terminals ${terminals}`}`

function voltsExpected({ expectedVolts, window }: FedDevice): string | null {
  if (expectedVolts === null && window === null) return null
  return [
    expectedVolts === null ? '' : voltWords(expectedVolts),
    window === null ? '' : `it works from ${window.minimumVolts} to ${window.maximumVolts} V`,
  ]
    .filter((each) => each !== '')
    .join('; ')
}

/** What speaks for low volts at this device. */
function voltEvidence({ proved, window, worst }: FedDevice): Evidence[] {
  const found: Evidence[] = []
  const low = window !== null && proved?.reading != null && proved.reading < window.minimumVolts
  if (proved?.result === 'failed' || low)
    found.push({ points: 60, words: `It failed when it was proved: ${proved?.text ?? ''}.` })
  if (worst !== null && worst.marginVolts < 0)
    found.push({
      points: 40,
      words: `Worked out it falls ${voltWords(-worst.marginVolts)} short ${worst.when}.`,
    })
  else if (worst !== null && worst.marginVolts < 1)
    found.push({
      points: 12,
      words: `Worked out only ${voltWords(worst.marginVolts)} are to spare ${worst.when}.`,
    })
  return found
}

const notKnown = ({ tag }: FedDevice): string =>
  `What should ${tag} have? Its run, its supply or its part does not say.`

/** Volts at what holds, with nobody at the door. */
function restVolts(holder: Holder, fed: FedDevice, symptom: Symptom): Draft {
  const isFed = holder.holdsWhile !== 'not fed'
  const expected = isFed ? voltsExpected(fed) : '0 V while nobody asks'
  const { proved } = fed
  return {
    key: `volts ${fed.fittingId}`,
    form: 'volts',
    look: `Measure the volts at ${placeOf(fed)}, with the door shut and nobody asking.`,
    at: placeOf(fed),
    expected,
    question: expected === null ? notKnown(fed) : null,
    last: proved === null || !isFed ? null : `${proved.text}, when proved`,
    usual: {
      points: symptom === 'weak hold' ? 64 : symptom === 'dead' ? 52 : 53,
      words:
        symptom === 'weak hold'
          ? `What ${fed.tag} holds with falls faster than its volts do.`
          : `One reading here tells the ${isFed ? 'feed' : 'order'} from the lock: what is before it, or ${fed.tag} itself.`,
    },
    evidence: isFed ? voltEvidence(fed) : [],
    otherwise: isFed
      ? `None: something in its feed is open, go back along it. Low: load or run; compare with the output of ${fed.from?.supply ?? 'its source'}. Right: the fault is in ${fed.tag} or at the door.`
      : `Volts here with nobody asking: something gives the feed that should not. None, and it still does not lock: the fault is in ${fed.tag} or at the door.`,
    fittingId: fed.fittingId,
  }
}

/** Volts at what holds, while somebody asks. */
function askedVolts(holder: Holder, fed: FedDevice): Draft {
  const gives = holder.holdsWhile === 'not fed'
  const expected = gives ? voltsExpected(fed) : '0 V while it is asked'
  return {
    key: `volts asked ${fed.fittingId}`,
    form: 'volts',
    look: `Measure the volts at ${placeOf(fed)} while somebody asks.`,
    at: placeOf(fed),
    expected,
    question: expected === null ? notKnown(fed) : null,
    last: gives && fed.proved !== null ? `${fed.proved.text}, when proved` : null,
    usual: {
      points: 62,
      words: `One reading tells what asks from the lock: does the feed ${gives ? 'come' : 'go'} when somebody asks?`,
    },
    evidence: gives ? voltEvidence(fed) : [],
    otherwise: gives
      ? `None: what asks does not reach it. Low: it has not the force to let go; go back along the feed. Right, and it stays locked: the leaf presses on it, or ${fed.tag} is to be changed.`
      : `Still there: what asks does not open the feed. Gone, and it still holds: ${fed.tag} sticks by itself or the leaf is caught; it is to be changed or freed.`,
    fittingId: fed.fittingId,
  }
}

export function voltDrafts({ holders }: Scene, symptom: Symptom): Draft[] {
  return holders.flatMap((holder) => {
    const { fed, holdsWhile } = holder
    if (fed === null || holdsWhile === null) return []
    switch (symptom) {
      case 'will not release':
        return [askedVolts(holder, fed)]
      case 'weak hold':
        return holdsWhile === 'fed' ? [restVolts(holder, fed, symptom)] : []
      case 'will not lock':
        return [restVolts(holder, fed, symptom)]
      case 'dead':
        return holdsWhile === 'fed' ? [restVolts(holder, fed, symptom)] : [askedVolts(holder, fed)]
      default:
        return []
    }
  })
}

const distanceOf: Partial<Record<Symptom, number>> = {
  dead: 60,
  'will not lock': 42,
  'weak hold': 44,
  'will not release': 40,
}

/** The output, its fuse and its battery; with those nearest to the device first, but all at once for a dead door. */
export function supplyDrafts(scene: Scene, symptom: Symptom): Draft[] {
  const usual = distanceOf[symptom]
  if (usual === undefined) return []
  const found: Draft[] = []
  for (const device of scene.fed) {
    const { from } = device
    if (from === null) continue
    const holder = scene.holders.find(({ fed }) => fed === device)
    const needed =
      symptom === 'dead' || holder?.holdsWhile === (symptom === 'will not release' ? 'not fed' : 'fed')
    if (!needed) continue
    const output = `${from.supply} output ${from.output}`
    const where = from.supplyWhere === null ? '' : ` (${from.supplyWhere})`
    const [other] = from.sharedWith
    const battery = scene.batteries.find(({ supplyId }) => supplyId === from.supplyId)
    if (other !== undefined && symptom !== 'weak hold')
      found.push({
        key: `others on ${from.outputId}`,
        form: 'look',
        look: `See whether ${from.sharedWith.slice(0, 4).join(', ')} ${from.sharedWith.length === 1 ? 'works' : 'work'}: ${output} feeds ${from.sharedWith.length === 1 ? 'it' : 'them'} too.`,
        at: `${other}, on ${output}`,
        expected: 'works as usual',
        usual: {
          points: symptom === 'dead' ? 70 : 38,
          words: 'It needs no tool, and halves what is left to look at.',
        },
        otherwise: `Dead as well: look at the fuse of ${output} and at ${from.supply}. Works: the fault is on the way from there to ${scene.opening.mark}.`,
      })
    if (from.fuse !== 'none')
      found.push({
        key: `fuse ${from.outputId}`,
        form: 'supply',
        look: `Look at the fuse of ${output}${where}.`,
        at: `${output}, fuse`,
        expected: from.fuse === null ? null : `whole, ${from.fuse.amps} A`,
        question: from.fuse === null ? `Which fuse has ${output}?` : null,
        usual: { points: usual - 2, words: `Everything on ${output} goes with it.` },
        otherwise:
          'Find what drew too much before it is replaced: a pinched run, a device, or one load too many.',
        caution: `${inside} ${sameFuse}`,
      })
    found.push({
      key: `output ${from.outputId}`,
      form: 'supply',
      look: `Measure ${output}${where}, with the load on.`,
      at: `${output}, + and -`,
      expected:
        from.nominalVolts === null
          ? null
          : `about ${voltWords(from.nominalVolts)}${from.lowestVolts === null ? '' : `; not below ${voltWords(from.lowestVolts)} on mains`}`,
      question: from.nominalVolts === null ? `How many volts has ${output}?` : null,
      usual: { points: usual - 4, words: `It is where the feed of ${device.tag} begins.` },
      evidence: batteryEvidence(battery, symptom),
      last: battery === undefined ? null : batteryWords(battery),
      otherwise: `Nothing: mains off and the battery empty, or taken off by the fire alarm. Low: on its battery, or too much load; see the mains lamp of ${from.supply}.`,
      caution: inside,
    })
  }
  return found
}

function batteryEvidence(battery: Scene['batteries'][number] | undefined, symptom: Symptom): Evidence[] {
  if (battery === undefined) return []
  const { mark, ageMonths, replaceBy, question } = battery
  if (question !== null) return symptom === 'dead' ? [{ points: 5, words: question }] : []
  if (ageMonths === null || replaceBy === null) return []
  return ageMonths >= batteryReplacementMonths
    ? [
        {
          points: symptom === 'dead' || symptom === 'weak hold' ? 45 : 15,
          words: `The battery of ${mark} is ${ageMonths} ${ageMonths === 1 ? 'month' : 'months'} old and was to be replaced by ${replaceBy}.`,
        },
      ]
    : []
}

const batteryWords = ({ mark, installedOn, ageMonths }: Scene['batteries'][number]): string =>
  installedOn === null
    ? `when the battery of ${mark} was installed is not known`
    : `battery of ${mark} installed ${installedOn}, ${ageMonths ?? 0} months ago`

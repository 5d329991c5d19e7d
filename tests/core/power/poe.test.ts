// Power over Ethernet: the standard's own figures prove each other. Sources are numbered as in the standards sheet.
import { describe, expect, test } from 'vitest'
import {
  awg,
  known,
  poeAtDevice,
  poeBudget,
  poeClasses,
  poeSentence,
  poeTypes,
  unknown,
  wattsAtDevice,
  type PoeClass,
  type PoeDevice,
  type PoeType,
} from '../../../core/power/index.ts'

describe('P - (P / V)^2 R gives what the standard leaves to the device (standards sheet 7, S108 to S111)', () => {
  test.each([
    [1, 12.95],
    [2, 25.5],
    [3, 51],
    [4, 71.28],
  ] as const)('type %i: %f W', (type, watts) => {
    const { portWatts, portVolts, channelOhms, deviceWatts } = poeTypes[type]
    expect(wattsAtDevice(portWatts, portVolts, channelOhms)).toBeCloseTo(watts, 1)
    expect(deviceWatts).toBeCloseTo(watts, 1)
  })

  test.each([0, 1, 2, 3, 4, 5, 6, 7, 8] as const)('class %i', (number) => {
    const limits = poeClasses[number]
    const { portVolts, channelOhms } = poeTypes[limits.type]
    // The standard rounds to 0.01 W in the small classes and to whole watts in the large ones.
    expect(
      Math.abs(wattsAtDevice(limits.portWatts, portVolts, channelOhms) - limits.deviceWatts),
    ).toBeLessThan(0.07)
  })
})

const device = (
  number: PoeClass,
  watts: number,
  metres: number,
  change: Partial<PoeDevice> = {},
): PoeDevice => ({
  id: `d${number}`,
  name: `reader ${number}`,
  class: known(number),
  watts: known(watts),
  size: known(awg(24)),
  stranded: known(false),
  lengthMetres: known(metres),
  ...change,
})
const type = (number: PoeType) => known(number)

describe('one device after its cable', () => {
  test('what the port gives is what the device draws and what the cable loses', () => {
    const found = poeAtDevice(device(4, 20, 80), type(2), 20)
    expect(found.verdict).toBe('met')
    expect(found.portWatts!).toBeCloseTo(20 + found.lostWatts!, 9)
    expect(found.volts! * found.amps!).toBeCloseTo(20, 9)
    // One conductor's ohms: two in parallel each way. 84.21 ohm/km is 24 AWG at 20 °C (S103).
    expect(found.ohms!).toBeCloseTo(0.08 * 84.21, 2)
    expect(found.volts!).toBeCloseTo(50 - found.amps! * found.ohms!, 9)
  })

  test('on four pairs the cable has half the ohms', () => {
    expect(poeAtDevice(device(6, 20, 80), type(3), 20).ohms!).toBeCloseTo(
      poeAtDevice(device(4, 20, 80), type(3), 20).ohms! / 2,
      9,
    )
  })

  test.each<[string, PoeDevice, PoeType, RegExp]>([
    ['over its class', device(3, 14, 10), 2, /its class allows 12.95 W at the device/],
    ['a lesser port', device(4, 20, 10), 1, /needs a port of type 2; the switch has type 1/],
    ['too long', device(4, 10, 120), 2, /120.0 m; the longest channel is 100 m/],
    ['too thin', device(4, 10, 100, { size: known(awg(28)) }), 2, /the standard allows 12.5 ohm/],
    ['not to be fed', device(4, 25, 900, { size: known(awg(28)) }), 2, /cannot be fed over this cable/],
  ])('%s', (_, each, port, sentence) => {
    const found = poeAtDevice(each, type(port), 20)
    expect(found.verdict).toBe('not met')
    expect(found.findings.map((each) => poeSentence(each)).join(' ')).toMatch(sentence)
  })

  test('what cannot be fed has no figure', () => {
    expect(poeAtDevice(device(4, 25, 900, { size: known(awg(28)) }), type(2), 20)).toMatchObject({
      volts: null,
      portWatts: null,
    })
  })

  test.each(['class', 'watts', 'size', 'stranded', 'lengthMetres'] as const)(
    'unknown %s is not known',
    (field) => {
      const found = poeAtDevice(
        device(4, 20, 80, { [field]: unknown('power at device', 'reader 4') }),
        type(2),
        20,
      )
      expect(found).toMatchObject({ verdict: 'not known', volts: null, portWatts: null })
      expect(found.questions).toHaveLength(1)
    },
  )
})

describe('a switch', () => {
  const networkSwitch = (budget: number, ports: number) =>
    poeBudget(
      {
        name: 'SW1',
        ports: known(ports),
        portType: type(2),
        budgetWatts: known(budget),
        devices: [device(3, 9, 40), device(4, 20, 60), device(2, 5, 20)],
      },
      20,
    )

  test('by class and as drawn, beside its budget and its ports', () => {
    const found = networkSwitch(60, 8)
    expect(found.byClassWatts).toBeCloseTo(15.4 + 30 + 7, 9)
    expect(found.drawnWatts!).toBeGreaterThan(34)
    expect(found.drawnWatts!).toBeLessThan(37)
    expect(found).toMatchObject({ withinByClass: 'met', withinDrawn: 'met', portsEnough: 'met' })
    expect(networkSwitch(40, 2)).toMatchObject({
      withinByClass: 'not met',
      withinDrawn: 'met',
      portsEnough: 'not met',
    })
  })

  test('with one device not known, its draw is not known either', () => {
    const found = poeBudget(
      {
        name: 'SW1',
        ports: known(8),
        portType: type(2),
        budgetWatts: known(60),
        devices: [device(3, 9, 40), device(4, 20, 60, { watts: unknown('power at device', 'reader 4') })],
      },
      20,
    )
    expect(found).toMatchObject({ drawnWatts: null, withinDrawn: 'not known', withinByClass: 'met' })
  })
})

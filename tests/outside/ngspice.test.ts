// Random networks solved here and by ngspice, an open circuit simulator (Debian package ngspice): volts at every device agree
// within 0.1 mV, and the output's current within 0.1 mA. Constant powers are behavioural sources there.
import { beforeAll, expect, test } from 'vitest'
import { branchInFull, studyOutput, type FedNetwork } from '../../core/power/index.ts'
import { allForms, chanceFrom, randomNetwork } from '../core/power/networks.ts'
import { deckOf, lacksNgspice, loadVolts, runDeck, type DeckEntry } from '../core/power/ngspice.ts'
import { describeWith } from '../tools/skipping.ts'

interface Case extends DeckEntry {
  readonly ours: ReadonlyMap<string, number>
  readonly ourAmps: number
}

/** One moment of a network as we solve it; null where it cannot be fed, which ngspice has no word for. */
function solvedHere(network: FedNetwork, celsius: number, wantsFiring: boolean): Case | null {
  const study = studyOutput(network, { conditions: ['nominal'], cableCelsius: [celsius] })
  const group = study.plans.flatMap(({ firings }) => firings.map(({ group: name }) => name))[0]
  const firing = wantsFiring ? (group ?? null) : null
  const scenario = { condition: 'nominal', moment: 'holding', celsius } as const
  const ours = new Map<string, number>()
  let ourAmps = 0
  for (const plan of study.plans) {
    const fires = firing !== null && plan.firings.some(({ group: name }) => name === firing)
    const full = branchInFull(plan, network.volts, scenario, fires ? firing : null)
    if (full === null) return null
    ourAmps += full.sourceAmps
    for (const [index, { id }] of plan.branch.loads.entries()) ours.set(id, full.loadVolts[index]!)
  }
  return { network, volts: 24, celsius, firing, ours, ourAmps }
}

const wanted = 420
const perDeck = 60

describeWith(lacksNgspice(), `${wanted} random networks, here and by ngspice`, () => {
  const cases: Case[] = []
  const worst = { volts: 0, amps: 0 }
  let devices = 0

  beforeAll(() => {
    const chance = chanceFrom(20_240)
    for (let round = 0; cases.length < wanted; round += 1) {
      // Long chains of some sizes too: up to 40 devices.
      const loads = round % 10 === 0 ? 40 : undefined
      const network = randomNetwork(chance, {
        separate: round % 3 === 0,
        ...(loads === undefined ? {} : { loads }),
      })
      const found = solvedHere(network, [20, 50, 75][round % 3]!, round % 2 === 0)
      if (found !== null) cases.push(found)
    }
    for (let first = 0; first < cases.length; first += perDeck) {
      const deck = cases.slice(first, first + perDeck)
      const { values } = runDeck(deckOf(deck))
      for (const [entry, each] of deck.entries()) {
        for (const [id, volts] of loadVolts(entry, each, values)) {
          worst.volts = Math.max(worst.volts, Math.abs(volts - each.ours.get(id)!))
          devices += 1
        }
        worst.amps = Math.max(worst.amps, Math.abs(-values.get(`v${entry}#branch`)! - each.ourAmps))
      }
    }
    console.log(
      `ngspice: ${cases.length} networks, ${devices} devices; furthest apart ${(worst.volts * 1e6).toFixed(4)} µV, ${(worst.amps * 1e6).toFixed(4)} µA`,
    )
  })

  test('volts at every device agree within 0.1 mV', () => {
    expect(devices).toBeGreaterThan(1500)
    expect(worst.volts).toBeLessThan(1e-4)
  })

  test('the current of every output agrees within 0.1 mA', () => {
    expect(worst.amps).toBeLessThan(1e-4)
  })

  test('among them are every form of load, separate returns, doubled conductors, in-rush and deep drops', () => {
    const loads = cases.flatMap(({ network }) => network.loads)
    for (const form of allForms)
      expect(loads.filter((each) => each.form.known && each.form.value === form).length).toBeGreaterThan(300)
    const runs = cases.flatMap(({ network }) => network.runs)
    expect(runs.filter(({ out, back }) => out.length === 0 || back.length === 0).length).toBeGreaterThan(200)
    expect(runs.filter(({ out }) => out.length === 2).length).toBeGreaterThan(200)
    expect(cases.filter(({ firing }) => firing !== null).length).toBeGreaterThan(100)
    expect(cases.filter(({ ours }) => Math.min(...ours.values()) < 18).length).toBeGreaterThan(20)
  })
})

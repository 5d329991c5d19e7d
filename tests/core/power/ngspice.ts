// The same networks as decks for ngspice (Debian package ngspice), an open circuit simulator: the check from outside.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { ratingOf, sideOhms, source, type FedNetwork, type Run } from '../../../core/power/index.ts'

/** Null where ngspice can be run, else why not. */
export const lacksNgspice = (): string | null =>
  spawnSync('ngspice', ['--version'], { stdio: 'ignore' }).error === undefined
    ? null
    : 'ngspice is not there: apt-get install -y ngspice'

export interface DeckEntry {
  readonly network: FedNetwork
  readonly volts: number
  readonly celsius: number
  /** The group that takes its in-rush; null while everything holds. */
  readonly firing: string | null
}

/** Ohms of one side of a run, worked out run by run: nothing of how the engine merges or arranges is used. */
function ohmsOf(run: Run, side: 'out' | 'back', celsius: number): number {
  const conductors = run[side].map(({ size, stranded }) => {
    if (!size.known || !stranded.known) throw new Error('a deck needs every fact')
    return { size: size.value, stranded: stranded.value }
  })
  if (!run.lengthMetres.known) throw new Error('a deck needs every fact')
  return sideOhms(conductors, run.lengthMetres.value, celsius)
}

/** One deck of many networks side by side. Nodes are named e<entry>o<place> and e<entry>b<place>; 0 is every negative terminal. */
export function deckOf(entries: readonly DeckEntry[]): string {
  const lines = ['networks side by side', '.options reltol=1e-9 abstol=1e-13 vntol=1e-10 itl1=500']
  const guesses: string[] = []
  for (const [entry, { network, volts, celsius, firing }] of entries.entries()) {
    const places = placesOf(network)
    const node = (side: 'out' | 'back', place: string): string =>
      place === source && side === 'back'
        ? '0'
        : `e${entry}${side === 'out' ? 'o' : 'b'}${places.get(place) ?? 0}`
    lines.push(`V${entry} ${node('out', source)} 0 ${volts}`)
    for (const place of places.keys()) guesses.push(`v(${node('out', place)})=${volts}`)
    for (const [index, run] of network.runs.entries())
      for (const side of ['out', 'back'] as const)
        if (run[side].length > 0)
          lines.push(
            `R${entry}_${index}${side} ${node(side, run.from)} ${node(side, run.to)} ${ohmsOf(run, side, celsius)}`,
          )
    for (const [index, load] of network.loads.entries()) {
      const ends = `${node('out', load.at)} ${node('back', load.at)}`
      const across = `v(${ends.replace(' ', ',')})`
      const { amps, stated } = drawnBy(load, firing)
      const form = load.form.known ? load.form.value : null
      if (form === 'current') lines.push(`I${entry}_${index} ${ends} ${amps}`)
      else if (form === 'resistance') lines.push(`RL${entry}_${index} ${ends} ${stated / amps}`)
      else lines.push(`B${entry}_${index} ${ends} I=${amps * stated}/max(${across},0.5)`)
    }
  }
  for (let first = 0; first < guesses.length; first += 20)
    lines.push(`.nodeset ${guesses.slice(first, first + 20).join(' ')}`)
  return [...lines, '.control', 'set numdgt=12', 'op', 'print all', '.endc', '.end', ''].join('\n')
}

const placesOf = (network: FedNetwork): ReadonlyMap<string, number> => {
  const places = new Map([[source, 0]])
  for (const { from, to } of network.runs)
    for (const place of [from, to]) if (!places.has(place)) places.set(place, places.size)
  return places
}

function drawnBy(load: FedNetwork['loads'][number], firing: string | null): { amps: number; stated: number } {
  const rating = ratingOf(load)
  if (
    !rating.known ||
    !rating.value.holdingAmps.known ||
    !rating.value.statedVolts.known ||
    !rating.value.inrush.known
  )
    throw new Error('a deck needs every fact')
  const holding = rating.value.holdingAmps.value
  const fires = firing !== null && (load.firesWith ?? load.name) === firing
  const amps = fires ? Math.max(holding, rating.value.inrush.value?.amps ?? 0) : holding
  return { amps, stated: rating.value.statedVolts.value }
}

/** Runs a deck and gives every node's volts and every branch's amps by ngspice's name for it. Throws with its words. */
export function runDeck(deck: string): { values: ReadonlyMap<string, number>; milliseconds: number } {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-ngspice-'))
  try {
    const file = path.join(folder, 'deck.cir')
    writeFileSync(file, deck)
    const start = performance.now()
    const { stdout, stderr } = spawnSync('ngspice', ['-b', file], {
      encoding: 'utf8',
      maxBuffer: 512 * 1024 * 1024,
      timeout: 300_000,
    })
    const milliseconds = performance.now() - start
    const values = new Map<string, number>()
    for (const [, name, value] of stdout.matchAll(/^(\S+) = (-?\d[\d.]*e[+-]\d+)\s*$/gm))
      values.set(name ?? '', Number(value))
    if (values.size === 0) throw new Error(`ngspice gave nothing: ${(stderr || stdout).slice(0, 2000)}`)
    return { values, milliseconds }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Volts across each load of an entry, by the load's id, as ngspice has them. */
export function loadVolts(
  entry: number,
  { network }: DeckEntry,
  values: ReadonlyMap<string, number>,
): ReadonlyMap<string, number> {
  const places = placesOf(network)
  const read = (side: 'o' | 'b', place: string): number => {
    if (place === source && side === 'b') return 0
    const found = values.get(`e${entry}${side}${places.get(place) ?? 0}`)
    if (found === undefined) throw new Error(`ngspice has no e${entry}${side}${places.get(place) ?? 0}`)
    return found
  }
  return new Map(network.loads.map(({ id, at }) => [id, read('o', at) - read('b', at)]))
}

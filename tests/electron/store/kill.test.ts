import { build } from 'esbuild'
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import path from 'node:path'
import { setTimeout } from 'node:timers/promises'
import { beforeAll, expect, test } from 'vitest'
import { makeJobFile, migrationsFolder, openJobFile } from '../../../electron/store/index.ts'
import { fileOf, optionsAt, smallRecords, temporaryFolder } from './support.ts'

// One file instead of hundreds of modules: a hundred children start in half the time. Within the project, for its packages.
const script = path.resolve(import.meta.dirname, '../../output/store/child-edits.mjs')
beforeAll(() =>
  build({
    entryPoints: [path.join(import.meta.dirname, 'child-edits.ts')],
    outfile: script,
    bundle: true,
    platform: 'node',
    format: 'esm',
    external: ['better-sqlite3'],
    logLevel: 'silent',
  }),
)

/** Numbers from 0 to 1 that are the same in every run. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

/** Lets a child edit, kills it at some moment, and gives the numbers it had said were kept. */
async function editUntilKilled(jobPath: string, start: number, random: () => number): Promise<number[]> {
  const child = spawn(process.execPath, [script, jobPath, String(start), migrationsFolder], {
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  let errors = ''
  child.stdout.setEncoding('utf8').on('data', (text: string) => (said += text))
  child.stderr.setEncoding('utf8').on('data', (text: string) => (errors += text))
  const closed = once(child, 'close')
  // One in ten dies while it is still starting or opening.
  if (random() < 0.1) await setTimeout(random() * 250)
  else {
    const enough = Math.ceil(random() * 9)
    while (said.split('\n').length <= enough && child.exitCode === null)
      await Promise.race([once(child.stdout, 'data'), closed])
    await setTimeout(random() * 6)
  }
  child.kill('SIGKILL')
  await closed
  expect(errors, `start ${start}`).toBe('')
  const whole = said.slice(0, said.lastIndexOf('\n') + 1)
  return [...whole.matchAll(/^kept (\d+)$/gm)].map((match) => Number(match[1]))
}

async function kills(lane: number, times: number): Promise<{ kept: number; rolledOn: number }> {
  const jobPath = path.join(temporaryFolder(), `lane ${lane}.lintelbook`)
  fileOf(makeJobFile(jobPath, smallRecords(), optionsAt())).close()
  const random = seeded(20_260_305 + lane)
  const acknowledged: number[] = []
  let next = 1000
  let unsaid = 0
  for (let time = 0; time < times; time++) {
    const kept = await editUntilKilled(jobPath, next, random)
    acknowledged.push(...kept)
    const file = fileOf(openJobFile(jobPath, optionsAt('2026-03-05T14:00:00Z')))
    expect(file.readOnly).toBe(false)
    expect(file.check().findings).toEqual([])
    const missing = acknowledged.filter(
      (number) =>
        file.data.get('opening', `opening-${number}`) === undefined ||
        file.data.get('leaf', `leaf-${number}`) === undefined,
    )
    expect(missing, `after kill ${time + 1} of lane ${lane}`).toEqual([])
    const states = new Map(file.history(100_000).map((entry) => [entry.name, entry.state]))
    const numbers = [...states.keys()].map((name) => Number(name.slice(4)))
    for (const number of acknowledged) expect(states.get(`Add ${number}`)).toBe('done')
    // What was kept but not yet said may be there, at most the one that was under way; half of it never is.
    expect(file.data.count('opening') - 3).toBe(file.data.count('leaf') - 1)
    const last = Math.max(next - 1, ...numbers)
    unsaid += last - Math.max(next - 1, ...kept)
    expect(last - Math.max(next - 1, ...kept)).toBeLessThanOrEqual(1)
    next = last + 1
    // A job that was killed between undo and redo goes on from there.
    if (file.redoName !== null) expect(file.redo().ok).toBe(true)
    file.close()
  }
  return { kept: acknowledged.length, rolledOn: unsaid }
}

test('killed 100 times while edits stream in: every edit that was said to be kept is there', async () => {
  const started = performance.now()
  const lanes = await Promise.all([kills(0, 50), kills(1, 50)])
  const kept = lanes.reduce((sum, lane) => sum + lane.kept, 0)
  const seconds = ((performance.now() - started) / 1000).toFixed(1)
  console.log(`100 kills, ${kept} edits acknowledged and present, ${seconds} s`)
  expect(kept).toBeGreaterThan(250)
}, 120_000)

// Everything the bench measures, on a job it makes for itself.
import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { buildStaleApart, builtPagesFolder } from '../../electron/packaging/build.ts'
import { makeJobFile } from '../../electron/store/index.ts'
import { bigJobRecords } from '../../fixtures/index.ts'
import { lacksBrowser } from '../tools/skipping-reasons.ts'
import { measureInHost } from './in-host.ts'
import { measureInWindow } from './in-window.ts'
import type { BenchLine } from './lines.ts'

export interface BenchOptions {
  readonly openings: number
  readonly edits: number
  readonly opens: number
  readonly scrollMilliseconds: number
  readonly print: boolean
  readonly office: boolean
}

export const fullBench: BenchOptions = {
  openings: 10_000,
  edits: 80,
  opens: 3,
  scrollMilliseconds: 3000,
  print: true,
  office: true,
}

/** Makes a job of this size in a temporary folder and measures. `say` gets a word before each part. */
export async function measure(
  options: BenchOptions,
  say: (line: string) => void = () => {},
): Promise<readonly BenchLine[]> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-bench-'))
  try {
    await buildStaleApart()
    const jobFile = path.join(folder, 'big.lintelbook')
    say(`Making a job of ${options.openings.toLocaleString('en')} openings ...`)
    const made = makeJobFile(jobFile, bigJobRecords(options.openings), {
      who: 'bench',
      now: () => new Date().toISOString(),
    })
    if (!made.ok) throw new Error(made.sentence)
    made.file.close()
    return [
      ...(await inWindow(jobFile, folder, options, say)),
      ...(await inHost(jobFile, folder, options, say)),
    ]
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

type Say = (line: string) => void

async function inWindow(jobFile: string, folder: string, options: BenchOptions, say: Say) {
  const lack = lacksBrowser()
  if (lack !== null) return [{ what: 'a to d, in a window', because: lack }]
  say('In a window ...')
  return measureInWindow({
    ...options,
    jobFile,
    home: path.join(folder, 'window-home'),
    pagesFolder: builtPagesFolder,
  })
}

async function inHost(jobFile: string, folder: string, options: BenchOptions, say: Say) {
  say('In the host ...')
  return measureInHost({
    ...options,
    jobFile,
    home: path.join(folder, 'host-home'),
    commits: 300,
    pasteCells: Math.min(20_000, options.openings * 2),
  })
}

// The shelf at the size of an office's archive: 200 job files with 100,000 openings, beside a text search over the text
// twins of the same jobs. By itself: node tests/bench/library-bench.ts
import { spawnSync } from 'node:child_process'
import { mkdtempSync, mkdirSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { openLibrary, type Library } from '../../electron/library/index.ts'
import { makeJobFile, writeJobAsTwin } from '../../electron/store/index.ts'
import { bigJobRecords, type RecordSet } from '../../fixtures/index.ts'
import { share, tableOf, type BenchLine } from './lines.ts'

interface LibraryBench {
  readonly files: number
  readonly openingsEach: number
}

const fullSize: LibraryBench = { files: 200, openingsEach: 500 }
const now = (): string => new Date().toISOString()

const streets = [
  'Harrow',
  'Mill',
  'Chapel',
  'Quay',
  'Orchard',
  'Station',
  'Foundry',
  'Meadow',
  'Castle',
  'Bridge',
]
const uses = ['Clinic', 'School', 'Library', 'Depot', 'Offices', 'Courthouse', 'Museum', 'Laboratories']

/** The same size each, with a name and serials of its own. */
function jobRecords(number: number, openings: number): RecordSet {
  const records = bigJobRecords(openings)
  const { job = [], opening = [], fitting = [] } = records
  const name = `${streets[number % streets.length]} Street ${uses[Math.floor(number / streets.length) % uses.length]}`
  const series = String(2000 + number)
  return {
    ...records,
    job: job.map((each) => ({ ...each, name: `${name} ${number + 1}`, number: `J-${series}` })),
    opening: opening.map((each, index) => ({ ...each, assetTag: `${series}-${index + 1}` })),
    fitting: fitting.map((each) =>
      each.serial === null ? each : { ...each, serial: each.serial.replace('27-', `${series}-`) },
    ),
  }
}

/** Makes the jobs and their twins; gives the megabytes of each. */
function makeShelf(jobs: string, twins: string, { files, openingsEach }: LibraryBench) {
  let jobBytes = 0
  let twinBytes = 0
  for (let number = 0; number < files; number++) {
    const jobPath = path.join(jobs, `job-${String(number).padStart(3, '0')}.lintelbook`)
    const made = makeJobFile(jobPath, jobRecords(number, openingsEach), { who: 'bench', now })
    if (!made.ok) throw new Error(made.sentence)
    const twin = path.join(twins, `job-${String(number).padStart(3, '0')}.json`)
    writeFileSync(twin, writeJobAsTwin(made.file))
    made.file.close()
    // Written long ago, as an archive's files are.
    const then = 1_700_000_000 + number * 1000
    utimesSync(jobPath, then, then)
    jobBytes += statSync(jobPath).size
    twinBytes += statSync(twin).size
  }
  return { jobMegabytes: jobBytes / 1e6, twinMegabytes: twinBytes / 1e6 }
}

/** What callers say: marks, serials, rooms with a level, a job with them, slips of the keys, whole sentences. */
const sentences = [
  '1005',
  '4 007',
  '2011-00042',
  '201100042',
  'two oh four',
  'store room three',
  'storeroom 3rd',
  'ward level nine',
  'stair',
  'office',
  'level 3',
  'laboratory four',
  'Harrow Street Clinic 1003',
  'mill school workshop',
  'quay library meeting room two',
  'labratory five',
  'magent linen',
  'wrok shop 7',
  'the meeting room door on six will not lock again',
  'entrance will not release',
  'check the frame',
  'electric strike linen 2',
  'J-2044 2010',
  'way out corridor 300',
  '2033-17',
  'sto',
  'o',
  'building 2 level 4 ward',
  'zebra crossing',
  'exit device',
] as const

function timed<T>(work: () => T): { readonly milliseconds: number; readonly result: T } {
  const start = performance.now()
  const result = work()
  return { milliseconds: performance.now() - start, result }
}

/** Each sentence several times, after once that is not counted. */
function searchTimes(library: Library): { readonly all: readonly number[]; readonly slowest: string } {
  const all: number[] = []
  let slowest = ''
  let longest = 0
  for (const sentence of sentences) library.search(sentence, 20)
  for (let round = 0; round < 7; round++)
    for (const sentence of sentences) {
      const { milliseconds } = timed(() => library.search(sentence, 20))
      all.push(milliseconds)
      if (milliseconds > longest) {
        longest = milliseconds
        slowest = sentence
      }
    }
  return { all, slowest }
}

/** A search for one text in all twins, which is the quickest one can do without an index. */
function besideText(twins: string): readonly BenchLine[] {
  const has = (name: string): boolean => spawnSync(name, ['--version']).status === 0
  const program = has('rg') ? 'rg' : has('grep') ? 'grep' : null
  const what = 'library: text search in the twins'
  if (program === null) return [{ what, because: 'neither rg nor grep is on this machine' }]
  const flags = program === 'rg' ? ['-c', '-i', '-F'] : ['-r', '-c', '-i', '-F']
  const times = ['2011-00042', 'meeting room', 'Laboratory'].flatMap((words) =>
    Array.from(
      { length: 4 },
      () => timed(() => spawnSync(program, [...flags, words, twins])).milliseconds,
    ).slice(1),
  )
  const not = program === 'rg' ? '' : '; rg is not on this machine, so grep stands for it'
  return [
    {
      what,
      measured: share(times, 0.5),
      unit: 'ms',
      how: `${program}, one text as written, nothing ranked${not}`,
    },
  ]
}

/** Measures and gives the lines. Takes a minute or two, most of it to make the files. */
export async function measureLibrary(
  size: LibraryBench = fullSize,
  say: (line: string) => void = () => {},
): Promise<readonly BenchLine[]> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-library-'))
  const [jobs = '', twins = '', home = ''] = ['jobs', 'twins', 'home'].map((name) => path.join(folder, name))
  try {
    for (const each of [jobs, twins, home]) mkdirSync(each)
    const openings = size.files * size.openingsEach
    say(`Making ${size.files} jobs with ${openings.toLocaleString('en')} openings ...`)
    const { jobMegabytes, twinMegabytes } = makeShelf(jobs, twins, size)
    const options = { home, folders: [jobs], now, log: say }
    say('Indexing ...')
    const first = openLibrary(options)
    const start = performance.now()
    let longestPause = 0
    let last = start
    // The program's own thread goes on meanwhile: how long it is ever kept.
    const beat = setInterval(() => {
      longestPause = Math.max(longestPause, performance.now() - last - 5)
      last = performance.now()
    }, 5)
    const state = await first.refresh()
    const seconds = (performance.now() - start) / 1000
    clearInterval(beat)
    if (state.openings !== openings)
      throw new Error(`${state.openings} openings were indexed, not ${openings}`)
    await first.close()
    const opening = performance.now()
    const library = openLibrary(options)
    await library.refresh()
    const openedSeconds = (performance.now() - opening) / 1000
    const indexMegabytes = statSync(path.join(home, 'library-index.sqlite')).size / 1e6
    say('Searching ...')
    const { all, slowest } = searchTimes(library)
    await library.close()
    return [
      {
        what: 'library: search, nearly all',
        measured: share(all, 0.95),
        unit: 'ms',
        goal: { atMost: 30 },
        how: `${sentences.length} sentences of callers, warm; middle ${share(all, 0.5).toFixed(1)} ms, longest ${Math.max(...all).toFixed(1)} ms ("${slowest}")`,
      },
      {
        what: 'library: time for 2,000 openings at first',
        measured: (2000 * seconds) / openings,
        unit: 's',
        goal: { atMost: 1 },
        how: `${Math.round(openings / seconds).toLocaleString('en')} openings/s in the worker; the program itself held ${Math.round(longestPause)} ms at most`,
      },
      {
        what: 'library: open and look at an unchanged shelf',
        measured: openedSeconds,
        unit: 's',
        goal: { atMost: 1 },
        how: `${size.files} files of ${Math.round(jobMegabytes)} MB in all, their index ${Math.round(indexMegabytes)} MB`,
      },
      ...besideText(twins).map((line) =>
        'how' in line ? { ...line, how: `${line.how}; ${Math.round(twinMegabytes)} MB` } : line,
      ),
    ]
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

if (import.meta.main) console.log(tableOf(await measureLibrary(fullSize, (line) => console.log(line))))

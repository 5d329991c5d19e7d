// What the host does, without a window; and the same rows read by others.
import Database from 'better-sqlite3'
import { copyFileSync, existsSync, mkdirSync, statSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import type { Answer, ChangeOutcome, MadeFile } from '../../core/contract/index.ts'
import { plainArrangement, scheduleRows, usualColumns } from '../../core/schedule/index.ts'
import { openProgram } from '../../electron/calls/index.ts'
import { programOptions, thisMachine } from '../../electron/machine.ts'
import { openJobFile } from '../../electron/store/index.ts'
import { run } from '../tools/tool.ts'
import { share, type BenchLine } from './lines.ts'

export interface HostBench {
  readonly jobFile: string
  readonly home: string
  readonly commits: number
  readonly pasteCells: number
  readonly print: boolean
  /** LibreOffice takes long; the test of the bench does without. */
  readonly office: boolean
}

async function timed<Value>(doing: () => Value | Promise<Value>): Promise<{ value: Value; ms: number }> {
  const start = performance.now()
  const value = await doing()
  return { value, ms: performance.now() - start }
}

const valueOf = <Value>(answer: Answer<Value>): Value => {
  if (!answer.ok) throw new Error(answer.problem.sentence)
  return answer.value
}

const clock = { who: 'bench', now: () => new Date().toISOString() }

async function openAndRead(jobFile: string): Promise<readonly BenchLine[]> {
  const opened = await timed(() => openJobFile(jobFile, clock))
  if (!opened.value.ok) throw new Error(opened.value.sentence)
  const { file } = opened.value
  const rows = await timed(() => scheduleRows(file.data))
  file.close()
  return [
    {
      what: 'e  open the job file',
      measured: opened.ms,
      unit: 'ms',
      how: 'check, lock, backup when due, load',
    },
    { what: 'e  all rows of the schedule', measured: rows.ms, unit: 'ms', how: `${rows.value.length} rows` },
  ]
}

/** The tables that stand behind the rows. */
const tables = [
  'building',
  'level',
  'space',
  'typical',
  'typical_fitting',
  'opening',
  'leaf',
  'fitting',
] as const

async function readRaw(jobFile: string): Promise<BenchLine> {
  const { value: count, ms } = await timed(() => {
    const db = new Database(jobFile, { readonly: true })
    let sum = 0
    for (const table of tables) sum += db.prepare(`SELECT * FROM ${table}`).all().length
    db.close()
    return sum
  })
  return {
    what: 'f  beside: the same read raw from SQLite',
    measured: ms,
    unit: 'ms',
    how: `${count} records`,
  }
}

const officePlaces = ['/usr/bin/soffice', '/usr/bin/libreoffice']

async function openInOffice(workbook: string, folder: string): Promise<BenchLine> {
  const what = 'f  beside: the same rows opened by LibreOffice'
  const program = officePlaces.find((each) => existsSync(each))
  if (program === undefined)
    return { what, because: 'no soffice here: apt-get install -y libreoffice-calc-nogui' }
  const words = [
    `-env:UserInstallation=file://${path.join(folder, 'office')}`,
    '--headless',
    '--convert-to',
    'csv',
    '--outdir',
    folder,
    workbook,
  ]
  // The first start makes a profile.
  await run(program, [words[0] ?? '', '--headless', '--terminate_after_init'])
  const { code, output, seconds } = await run(program, words)
  if (code !== 0 || !existsSync(workbook.replace(/\.xlsx$/, '.csv')))
    return { what, because: `soffice ended with ${code}: ${output.trim().slice(0, 120)}` }
  return { what, measured: seconds * 1000, unit: 'ms', how: 'soffice --convert-to csv of the workbook below' }
}

/** Everything that needs no window, on a copy of the job file. */
export async function measureInHost(bench: HostBench): Promise<readonly BenchLine[]> {
  mkdirSync(bench.home, { recursive: true })
  const jobFile = path.join(bench.home, 'copy.lintelbook')
  copyFileSync(bench.jobFile, jobFile)
  const lines: BenchLine[] = [...(await openAndRead(jobFile)), await readRaw(jobFile)]
  const machine = { ...thisMachine(), environment: { ...process.env, LINTELBOOK_HOME: bench.home } }
  const program = await openProgram(programOptions(machine, jobFile))
  const ask = async <Value>(call: string, input: unknown): Promise<Value> =>
    valueOf((await program.answer({ call, input })) as Answer<Value>)
  try {
    const { rows } = await ask<{ rows: readonly { id: string }[] }>('schedule.read', {})
    lines.push(...(await changes(bench, rows, ask)))
    const columns = [...usualColumns]
    const wanted = { arrangement: plainArrangement, columns }
    const book = await timed(() => ask<MadeFile>('export.schedule', { ...wanted, form: 'xlsx' }))
    const workbook = path.join(bench.home, 'schedule.xlsx')
    writeFileSync(workbook, Buffer.from(book.value.base64, 'base64'))
    if (bench.office) lines.push(await openInOffice(workbook, bench.home))
    const kilobytes = Math.round(statSync(workbook).size / 1000)
    lines.push({
      what: 'f  our workbook of these rows',
      measured: book.ms,
      unit: 'ms',
      how: `${kilobytes} kB`,
    })
    if (bench.print) {
      const paper = await timed(() => ask<MadeFile>('print.schedule', { ...wanted, pageSize: 'tabloid' }))
      const pages = paper.value.pages ?? 0
      lines.push({
        what: 'g  the schedule printed to PDF',
        measured: pages / (paper.ms / 1000),
        unit: 'pages/s',
        how: `${pages} pages in ${(paper.ms / 1000).toFixed(1)} s`,
      })
    }
    return lines
  } finally {
    await program.close()
  }
}

type Ask = <Value>(call: string, input: unknown) => Promise<Value>

async function changes(
  { commits, pasteCells }: HostBench,
  rows: readonly { id: string }[],
  ask: Ask,
): Promise<readonly BenchLine[]> {
  const setCells = (how: string, cells: readonly unknown[]) => ({
    command: { does: 'set cells', how, unreadable: 'refuse', cells },
  })
  const times: number[] = []
  for (let turn = 0; turn < commits; turn += 1) {
    const openingId = rows[(turn * 37) % rows.length]?.id
    const one = setCells('type', [{ openingId, column: 'notes', text: `Note ${turn}` }])
    times.push((await timed(() => ask<ChangeOutcome>('change.make', one))).ms)
  }
  const perRow = Math.ceil(pasteCells / rows.length)
  const columns = ['notes', 'doorType', 'hardwareSet', 'assetTag'].slice(0, perRow)
  const cells = rows
    .flatMap(({ id }) => columns.map((column) => ({ openingId: id, column, text: `P ${id.slice(-5)}` })))
    .slice(0, pasteCells)
  const paste = await timed(() => ask<ChangeOutcome>('change.make', setCells('paste', cells)))
  const back = await timed(() => ask<ChangeOutcome>('change.undo', {}))
  const size = cells.length.toLocaleString('en')
  return [
    {
      what: 'e  one edit planned, written and answered, p95',
      measured: share(times, 0.95),
      unit: 'ms',
      how: `${commits} edits, median ${share(times, 0.5).toFixed(1)} ms`,
    },
    { what: `e  a paste of ${size} cells`, measured: paste.ms, unit: 'ms', how: paste.value.name },
    {
      what: 'e  its undo',
      measured: back.ms,
      unit: 'ms',
      how: `${back.value.changed.length} rows told anew`,
    },
  ]
}

// What the printed-page tests share: a made-up job, the press, and the tools that read pages back.
import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Writable } from 'node:stream'
import {
  scheduleDocument,
  type DocumentBlocks,
  type ScheduleDocumentColumn,
  type ScheduleDocumentRow,
} from '../../../core/documents/index.ts'
import { pressFonts } from '../../../electron/press.ts'
import { writeDocument, type WriteOptions, type WrittenDocument } from '../../../renderer/paper/index.ts'

/** The tools that are not on this machine, of those asked for. */
export function missingTools(...tools: string[]): string[] {
  const missing = tools.filter((tool) => spawnSync(tool, ['--version']).error !== undefined)
  if (missing.length > 0)
    console.log(`skipped: ${missing.join(', ')} not installed (Debian: poppler-utils, qpdf)`)
  return missing
}

const folder = mkdtempSync(join(tmpdir(), 'lintelbook-paper-'))
process.on('exit', () => rmSync(folder, { recursive: true, force: true }))
let files = 0

export function keep(bytes: Uint8Array): string {
  const path = join(folder, `${(files += 1)}.pdf`)
  writeFileSync(path, bytes)
  return path
}

export const run = (tool: string, ...args: string[]): string =>
  execFileSync(tool, args, { encoding: 'utf8', maxBuffer: 1 << 28 })

export const createdAt = new Date(Date.UTC(2026, 2, 3, 9))

export async function print(
  document: DocumentBlocks,
  options: Partial<WriteOptions> = {},
): Promise<{ bytes: Uint8Array; written: WrittenDocument }> {
  const chunks: Uint8Array[] = []
  const stream = new Writable({
    write(chunk: Uint8Array, _, done) {
      chunks.push(chunk)
      done()
    },
  })
  const fonts = await pressFonts()
  const written = await writeDocument(document, { pageSize: 'letter', fonts, createdAt, stream, ...options })
  return { bytes: Buffer.concat(chunks), written }
}

const column = (
  key: string,
  heading: string,
  widthWeight: number,
  align: 'left' | 'right' = 'left',
  unit: string | null = null,
): ScheduleDocumentColumn => ({ key, heading, unit, align, widthWeight })

export const columns: readonly ScheduleDocumentColumn[] = [
  column('mark', 'Mark', 0),
  column('where', 'Where', 3),
  column('leaves', 'Leaves', 0, 'right'),
  column('width', 'Width', 0, 'right', 'mm'),
  column('height', 'Height', 0, 'right', 'mm'),
  column('hand', 'Hand', 0),
  column('material', 'Door material', 0),
  column('frame', 'Frame material', 0),
  column('label', 'Label', 0, 'right', 'minutes'),
  column('typical', 'Typical', 1),
  column('furnished', 'Furnished by', 0),
  column('fitted', 'Fitted by', 0),
  column('wired', 'Wired by', 0),
  column('serial', 'Serial', 0),
  column('notes', 'Notes', 4),
]

const places = [
  'Main lobby, from forecourt',
  'Records, from corridor 110',
  'Stair 2',
  'Pharmacy store, from 117',
  'Comms room',
]
const typicals = ['Lobby pair', 'Stair re-entry', 'Magnet and sensor', 'Strike, secure']
const hands = ['LH', 'RH', 'LHR', 'RHR']

function row(level: number, at: number, notes: string): ScheduleDocumentRow {
  const notKnown = at % 11 === 5 ? ['hand'] : []
  return {
    texts: {
      mark: `${level}${String(at + 1).padStart(3, '0')}${at % 13 === 3 ? 'A' : ''}`,
      where: places[at % places.length] ?? '',
      leaves: at % 5 === 0 ? '2' : '1',
      width: at % 3 === 0 ? '1067' : '914',
      height: '2134',
      hand: notKnown.length > 0 ? '' : (hands[at % 4] ?? ''),
      material: at % 3 === 0 ? 'WD' : 'HM',
      frame: 'HM',
      label: at % 4 === 0 ? '90' : 'none',
      typical: typicals[at % 4] ?? '',
      furnished: 'Lock contractor',
      fitted: at % 2 === 0 ? 'Door contractor' : 'Lock contractor',
      wired: 'Electrician',
      serial: at % 3 === 0 ? `S-${100_000 + at * 37}` : '',
      notes,
    },
    notKnown,
    own: at % 9 === 4 ? ['fitted'] : [],
  }
}

/** A schedule with so many openings on each level. */
export function schedule(
  perLevel: readonly number[],
  options: {
    notes?: (at: number) => string
    jobName?: string
    columns?: readonly ScheduleDocumentColumn[]
  } = {},
): DocumentBlocks {
  return scheduleDocument({
    job: {
      name: options.jobName ?? 'Harrow Street Clinic',
      number: '2231',
      client: 'Harrow Street Health Trust',
      address: '14 Harrow Street',
      preparedBy: 'Front office',
    },
    columns: options.columns ?? columns,
    groups: perLevel.map((count, level) => ({
      groupTitle: `Level ${level + 1}`,
      within: level < 2 ? 'Main building' : 'Annexe',
      rows: Array.from({ length: count }, (_, at) => row(level + 1, at, options.notes?.(at) ?? '')),
    })),
    issueName: 'Issue 2',
    issuedOn: '3 March 2026',
  })
}

export function marksOf(document: DocumentBlocks): string[] {
  return document.blocks.flatMap((block) =>
    block.form === 'table'
      ? block.groups.flatMap((group) => group.rows.map((each) => each.cells[0] ?? ''))
      : [],
  )
}

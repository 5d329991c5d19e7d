// What callers say, and what is found among several jobs. Common practice, no source: how people say marks and places.
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openLibrary, type Library, type LibraryFound } from '../../../electron/library/index.ts'
import { openJobFile } from '../../../electron/store/index.ts'
import { bigJobRecords, demoRecords } from '../../../fixtures/index.ts'
import { asId } from '../../../core/job/index.ts'
import { optionsAt } from '../store/support.ts'
import { jobCalled, jobFile } from './support.ts'

const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'lintelbook-callers-'))
let library: Library

beforeAll(async () => {
  const big = bigJobRecords(300)
  jobFile(folder, 'clinic', demoRecords())
  jobFile(folder, 'big', big)
  jobFile(folder, 'school', {
    ...jobCalled('Mill Lane School', 'ST-2611-04', { whereText: 'North stair', assetTag: 'AT 77/3' }),
  })
  jobFile(folder, 'depot', jobCalled('Quay Depot', '310A', { whereText: 'Café, garden side' }))
  library = openLibrary({
    home: path.join(folder, 'home'),
    folders: [folder],
    now: () => '2026-11-25T09:00:00Z',
    log: () => {},
  })
  await library.refresh()
})
afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const clinic = 'Harrow Street Clinic'
const best = (asked: string): LibraryFound | undefined => library.search(asked, 10)[0]

// What is said, the job, the opening whose page answers, what kind of record was found, and why.
const answers: readonly [string, string, string | null, string, string][] = [
  ['store room three', clinic, 'opening-324', 'opening', 'a room and a level in words'],
  ['STORE-ROOM 3', clinic, 'opening-324', 'opening', 'case, a dash, a figure'],
  ['three store room', clinic, 'opening-324', 'opening', 'any order'],
  ['the store room door on three will not lock again', clinic, 'opening-324', 'opening', 'a whole sentence'],
  ['stoer rom thre', clinic, 'opening-324', 'opening', 'three slips of the keys'],
  ['clinic 204', clinic, 'opening-204', 'opening', 'a job and a mark'],
  ['clinic 204 magnet', clinic, 'opening-204', 'opening', 'a mark, though what else is said of it is not so'],
  ['clinic two oh four', clinic, 'opening-204', 'opening', 'digits in words'],
  ['a-101', clinic, 'opening-a101', 'opening', 'a mark with a dash that is not there'],
  ['hsc 118', clinic, 'opening-118', 'opening', 'an asset tag without its dash'],
  ['pharmacy store', clinic, 'opening-118', 'opening', 'a room'],
  ['pharmasy store', clinic, 'opening-118', 'opening', 'a slip'],
  ['annexe entrance', clinic, 'opening-a101', 'opening', 'another spelling'],
  ['2604-1203', clinic, 'opening-101', 'fitting', 'a serial'],
  ['26041203', clinic, 'opening-101', 'fitting', 'a serial without its dash'],
  ['twenty six oh four twelve oh three', clinic, 'opening-101', 'fitting', 'a serial in words'],
  ['sounder too loud', clinic, 'opening-203', 'visit', 'what was reported on a visit'],
  ['keep the new setting', clinic, 'opening-118', 'finding', 'a finding'],
  ['harrow street clinic', clinic, null, 'job', 'the name of a job'],
  ['no manual release out of use', clinic, 'opening-210', 'finding', 'a finding in its own words'],
  ['101 reader', clinic, 'opening-101', 'run', 'a cable'],
  ['104A contact', clinic, 'opening-104a', 'run', 'a cable and a point of one name'],
  ['118 lock', clinic, 'opening-118', 'opening', 'a mark and what is wrong'],
  ['ps1', clinic, null, 'supply', 'a supply'],
  ['PS 1', clinic, null, 'supply', 'a supply with a blank'],
  ['ps1 output 3', clinic, null, 'output', 'an output'],
  ['AC6', clinic, null, 'controller', 'a controller'],
  ['controlled medicines', clinic, 'opening-118', 'opening', 'a note'],
  ['bicycle stores', clinic, 'opening-a106', 'opening', 'more than one'],
  ['HSC-26', clinic, null, 'job', 'the number of a job'],
  ['2611-04', 'Mill Lane School', 'opening-1', 'opening', 'the end of a mark'],
  ['st2611 04', 'Mill Lane School', 'opening-1', 'opening', 'dashes and blanks'],
  ['north stair', 'Mill Lane School', 'opening-1', 'opening', 'what people call the place'],
  ['nroth stiar', 'Mill Lane School', 'opening-1', 'opening', 'two slips'],
  ['AT77/3', 'Mill Lane School', 'opening-1', 'opening', 'an asset tag'],
  ['mill lane stair', 'Mill Lane School', 'opening-1', 'opening', 'a job and a place'],
  ['310a', 'Quay Depot', 'opening-1', 'opening', 'the whole mark before its beginning'],
  ['cafe', 'Quay Depot', 'opening-1', 'opening', 'accents'],
  ['27-00042', 'Big job', 'opening-00042', 'fitting', 'a serial of a large job'],
]

describe('what a caller says', () => {
  test.each(answers)('"%s" is in %s at %s, a %s: %s', (asked, jobName, openingId, kind) => {
    expect(best(asked)).toMatchObject({ jobName, openingId, kind })
  })

  test('is answered with the file, a title, a place and why', () => {
    expect(best('2604-1203')).toEqual({
      jobPath: path.join(folder, 'clinic.lintelbook'),
      jobName: clinic,
      kind: 'fitting',
      id: 'fitting-101-o1',
      openingId: 'opening-101',
      title: '101 O1 Low-energy operator, surface',
      detail: '101 Main lobby, Level 1; serial 2604-1203',
      matched: 'serial',
      without: [],
      sentence: null,
    })
  })

  test('and is nowhere gives nothing; what is only in part there says what it lacks', () => {
    expect(library.search('xyzzy', 10)).toEqual([])
    expect(best('pharmacy xyzzy')).toMatchObject({ jobName: clinic, without: ['xyzzy'] })
    expect(best('pharmacy store')?.without).toEqual([])
  })

  test('gives no more than asked for, the best first', () => {
    expect(library.search('stair', 3)).toHaveLength(3)
    expect(library.search('stair', 0)).toEqual([])
    expect(library.search('324', 1).map((found) => found.title)).toEqual(['324'])
  })

  test('odd words are harmless', () => {
    const odd = [
      '__proto__',
      'a OR b',
      '"',
      "' --",
      '{mark}: x',
      'NEAR(a b)',
      '*',
      'x*',
      '🚪',
      'ß',
      '\0',
      '^',
      'a'.repeat(9000),
    ]
    for (const asked of odd) expect(Array.isArray(library.search(asked, 10))).toBe(true)
  })
})

/** The same words find the same opening in one job and across all. */
test.each([
  'store room three',
  '118',
  'pharmacy store',
  '2604-1203',
  'hsc 118',
  'stair 1 roof',
  'sounder too loud',
])('"%s" finds in the job alone what it finds on the shelf', (asked) => {
  const opened = openJobFile(path.join(folder, 'clinic.lintelbook'), optionsAt(undefined, { readOnly: true }))
  if (!opened.ok) throw new Error(opened.sentence)
  const alone = opened.file.find(asked, 1)[0]
  opened.file.close()
  expect(library.search(`clinic ${asked}`, 1)[0]?.openingId).toBe(alone?.openingId)
})

test('of those alike, the job that was changed later comes first', async () => {
  const apart = fs.mkdtempSync(path.join(folder, 'apart-'))
  for (const name of ['one', 'two', 'three']) jobFile(apart, name, jobCalled(`Job ${name}`, 'Q9'))
  const changed = openJobFile(path.join(apart, 'one.lintelbook'), optionsAt('2026-11-01T00:00:00Z'))
  if (!changed.ok) throw new Error(changed.sentence)
  changed.file.commit({
    name: 'Note',
    edits: [
      { does: 'set', kind: 'opening', id: asId('opening-2'), from: { notes: null }, to: { notes: 'x' } },
    ],
  })
  changed.file.close()
  const shelf = openLibrary({
    home: path.join(folder, 'home-apart'),
    folders: [apart],
    now: () => '2026-11-25T09:00:00Z',
    log: () => {},
  })
  await shelf.refresh()
  expect(shelf.search('q9', 10).map((found) => found.jobName)[0]).toBe('Job one')
  await shelf.close()
})

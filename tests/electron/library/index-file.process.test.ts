// The index itself: older, newer, foreign, damaged, gone, or nowhere to be written.
import Database from 'better-sqlite3'
import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { bigJobRecords } from '../../../fixtures/index.ts'
import { age, jobCalled, jobFile, libraryOf, twoFolders } from './support.ts'

const indexIn = (home: string): string => path.join(home, 'library-index.sqlite')
const inside =
  (sql: string) =>
  (index: string): void => {
    const db = new Database(index)
    db.exec(sql)
    db.close()
  }

const spoilings: readonly [string, (index: string) => void][] = [
  ['of an older program', inside('PRAGMA user_version = 0')],
  ['of a newer program', inside('PRAGMA user_version = 99')],
  ['another program’s', inside('PRAGMA application_id = 7')],
  ['a text', (index) => fs.writeFileSync(index, 'Dear Ada,\n'.repeat(900))],
  ['empty', (index) => fs.truncateSync(index, 0)],
  ['cut to half', (index) => fs.truncateSync(index, fs.statSync(index).size / 2)],
  ['cut to its first page', (index) => fs.truncateSync(index, 4096)],
  ['robbed of a table', inside('DROP TABLE entry')],
  [
    'scribbled over',
    (index) => {
      const bytes = fs.readFileSync(index)
      fs.writeFileSync(index, bytes.fill(0xa5, 4096))
    },
  ],
]

describe('an index that is not as it should be is made again', () => {
  test.each(spoilings)('%s', async (_what, spoil) => {
    const { home, jobs } = twoFolders()
    jobFile(jobs, 'clinic', jobCalled('Clinic', 'K-1'))
    const first = libraryOf(home, [jobs])
    await first.refresh()
    await first.close()
    spoil(indexIn(home))
    const lines: string[] = []
    const library = libraryOf(home, [jobs], { log: (line) => lines.push(line) })
    library.search('k1', 5)
    const state = await library.refresh()
    expect([state.jobs, state.trouble]).toEqual([1, null])
    expect(library.search('k1', 5)).toMatchObject([{ jobName: 'Clinic' }])
    expect(fs.readdirSync(jobs)).toEqual(['clinic.lintelbook'])
  })

  test('while it is in use: found by asking, answered again after', async () => {
    const { home, jobs } = twoFolders()
    jobFile(jobs, 'clinic', jobCalled('Clinic', 'K-1'))
    const library = libraryOf(home, [jobs])
    await library.refresh()
    inside('DROP TABLE entry')(indexIn(home))
    expect(library.search('k1', 5)).toEqual([])
    await library.refresh()
    expect(library.search('k1', 5)).toMatchObject([{ jobName: 'Clinic' }])
  })
})

test('it is kept: a second program finds everything without reading a job file', async () => {
  const { home, jobs } = twoFolders()
  jobFile(jobs, 'clinic', jobCalled('Clinic', 'K-1'))
  const first = libraryOf(home, [jobs])
  await first.refresh()
  const second = libraryOf(home, [jobs])
  expect(second.search('k1', 5)).toMatchObject([{ jobName: 'Clinic' }])
  expect(second.state()).toMatchObject({ jobs: 1, openings: 3, refreshing: false, trouble: null })
})

test('two programs may look at one time', async () => {
  const { home, jobs } = twoFolders()
  for (let number = 0; number < 12; number++)
    jobFile(jobs, `job ${number}`, jobCalled(`Job ${number}`, `K-${number}`))
  const both = [libraryOf(home, [jobs]), libraryOf(home, [jobs])]
  const states = await Promise.all(both.map((library) => library.refresh()))
  expect(states.map(({ trouble }) => trouble)).toEqual([null, null])
  for (const library of both) {
    expect(library.state().jobs).toBe(12)
    expect(library.search('k11', 50).filter((found) => found.title === 'K-11')).toHaveLength(1)
  }
})

test('where the home cannot be written, it is made for this time, with a sentence', async () => {
  const { home, jobs } = twoFolders()
  jobFile(jobs, 'clinic', jobCalled('Clinic', 'K-1'))
  fs.writeFileSync(home, 'a file where the folder should be')
  const library = libraryOf(home, [jobs])
  const state = await library.refresh()
  expect(state.trouble).toMatch(
    /^The index of the shelf cannot be kept \(.+\); it is made for this time only\.$/,
  )
  expect(library.search('k1', 5)).toMatchObject([{ jobName: 'Clinic' }])
})

// A limit on the size of a file stands for a full disk: the system refuses to write on, with another code.
test.skipIf(process.platform === 'win32')(
  'no room: said, what was indexed before answers, jobs are untouched',
  () => {
    const { home, jobs } = twoFolders()
    jobFile(jobs, 'a', jobCalled('First', 'OP-1'))
    const large = jobFile(jobs, 'b', bigJobRecords(400))
    age(large, 1_700_000_900)
    const before = fs.readFileSync(large)
    const script = path.join(import.meta.dirname, 'child-looks.ts')
    const limited = `ulimit -f 300; exec "$0" "$@"`
    const { stdout } = spawnSync('bash', ['-c', limited, process.execPath, script, home, jobs], {
      encoding: 'utf8',
    })
    expect(JSON.parse(stdout)).toMatchObject({
      found: ['First'],
      trouble: expect.stringMatching(
        /^The index of the shelf could not be brought up to date \(.+\); search answers from what it has\.$/,
      ),
    })
    expect(fs.readFileSync(large).equals(before)).toBe(true)
  },
)

test('searching goes on while it is made', async () => {
  const { home, jobs } = twoFolders()
  for (let number = 0; number < 10; number++)
    jobFile(jobs, `job ${number}`, jobCalled(`Job ${number}`, `K-${number}`))
  const library = libraryOf(home, [jobs])
  let meanwhile = 0
  const looking = library.refresh(() => {
    library.search('k1', 5)
    meanwhile += 1
  })
  expect(library.state().refreshing).toBe(true)
  expect(library.refresh(), 'one look at a time').toBe(looking)
  await looking
  expect(meanwhile).toBeGreaterThanOrEqual(10)
  expect(library.state()).toMatchObject({ jobs: 10, refreshing: false })
})

test('after closing it finds nothing and minds nothing', async () => {
  const { home, jobs } = twoFolders()
  jobFile(jobs, 'clinic')
  const library = libraryOf(home, [jobs])
  const looking = library.refresh()
  await library.close()
  await library.close()
  await looking
  expect(library.search('101', 5)).toEqual([])
})

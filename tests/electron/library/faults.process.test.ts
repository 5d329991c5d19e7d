// What can be wrong with a folder or a file of the shelf: done to real ones, with its sentence and its outcome.
import Database from 'better-sqlite3'
import { createHash } from 'node:crypto'
import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { Worker } from 'node:worker_threads'
import { describe, expect, test } from 'vitest'
import { listen } from '../../../electron/library/refresh.ts'
import { openJobFile } from '../../../electron/store/index.ts'
import { optionsAt } from '../store/support.ts'
import { age, jobCalled, jobFile, libraryOf, smallRecords, temporaryFolder, twoFolders } from './support.ts'

const inside =
  (sql: string) =>
  (jobPath: string): void => {
    const db = new Database(jobPath)
    db.exec(sql)
    db.close()
  }

/** A transaction that reached the disk, and its journal: copied while it is open, as a power cut would leave it. */
function halfWritten(jobPath: string): void {
  const db = new Database(jobPath)
  db.pragma('cache_size = 1')
  db.pragma('cache_spill = 1')
  db.exec(`BEGIN; UPDATE opening SET notes = 'half written'`)
  db.exec(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 3000)
    INSERT INTO contact (id, name) SELECT 'contact-' || i, 'somebody with a long name ' || i FROM n`)
  fs.copyFileSync(jobPath, `${jobPath}.copy`)
  fs.copyFileSync(`${jobPath}-journal`, `${jobPath}.copy-journal`)
  db.exec('ROLLBACK')
  db.close()
  fs.renameSync(`${jobPath}.copy`, jobPath)
  fs.renameSync(`${jobPath}.copy-journal`, `${jobPath}-journal`)
}

// What is done to a file that was indexed before, words of its sentence, whether what was indexed still answers, and how.
const spoilings: readonly [string, string, boolean, (jobPath: string) => void][] = [
  [
    'cut to half',
    'was cut short',
    true,
    (jobPath) => fs.truncateSync(jobPath, fs.statSync(jobPath).size / 2),
  ],
  ['emptied', 'is empty, so there is no job in it', true, (jobPath) => fs.truncateSync(jobPath, 0)],
  [
    'scribbled over',
    'is damaged',
    true,
    (jobPath) => {
      const bytes = fs.readFileSync(jobPath)
      fs.writeFileSync(jobPath, bytes.fill(0xa5, 4096 * 6, 4096 * 46))
    },
  ],
  [
    'a foreign database',
    'is not a Lintelbook job file',
    false,
    (jobPath) => (fs.rmSync(jobPath), inside('CREATE TABLE t (a)')(jobPath)),
  ],
  ['a text', 'is not a Lintelbook', false, (jobPath) => fs.writeFileSync(jobPath, 'Dear Ada,\n'.repeat(99))],
  [
    'of a newer program',
    'was written by a newer Lintelbook',
    true,
    inside(`INSERT INTO schema_migration VALUES (99, 'future', 'x', '2030-01-01T00:00:00Z')`),
  ],
  ['given a view', 'are not as Lintelbook made them', true, inside('CREATE VIEW v AS SELECT 1')],
  ['half written', 'Saving spoilt.lintelbook was interrupted', true, halfWritten],
]

describe('a file that is not as it should be', () => {
  test.each(spoilings)(
    '%s: listed with "%s", the others go on',
    async (_what, words, stillAnswers, spoil) => {
      const { home, jobs } = twoFolders()
      const spoilt = jobFile(jobs, 'spoilt', jobCalled('Spoilt job', 'SP-77'))
      const library = libraryOf(home, [jobs])
      await library.refresh()
      spoil(spoilt)
      age(spoilt, 1_700_000_500)
      const before = fs.readFileSync(spoilt)
      jobFile(jobs, 'zz sound', jobCalled('Sound job', 'SO-88'))
      const state = await library.refresh()
      expect(state.files.map((file) => path.basename(file.path))).toEqual([
        'spoilt.lintelbook',
        'zz sound.lintelbook',
      ])
      expect(state.files[0]?.sentence).toContain(words)
      expect(state.files[1]?.sentence).toBeNull()
      expect(library.search('so88', 5)[0]).toMatchObject({ jobName: 'Sound job', sentence: null })
      const answers = library.search('sp77', 5)
      expect(answers.length > 0).toBe(stillAnswers)
      if (stillAnswers) expect(answers[0]?.sentence).toContain(words)
      expect(fs.readFileSync(spoilt).equals(before)).toBe(true)
      // Put right, it answers anew.
      fs.rmSync(spoilt)
      fs.rmSync(`${spoilt}-journal`, { force: true })
      jobFile(jobs, 'spoilt', jobCalled('Put right', 'SP-77'))
      await library.refresh()
      expect(library.search('sp77', 5)[0]).toMatchObject({ jobName: 'Put right', sentence: null })
    },
  )
})

describe('a folder', () => {
  test('that is not there is a sentence, and the others are looked at', async () => {
    const { home, jobs } = twoFolders()
    jobFile(jobs, 'clinic')
    const state = await libraryOf(home, [path.join(jobs, 'nowhere'), jobs]).refresh()
    expect(state.folders).toMatchObject([
      { reachable: false, awaySince: '2026-11-25T09:00:00Z', jobs: 0 },
      { reachable: true, awaySince: null, sentence: null, jobs: 1 },
    ])
    expect(state.folders[0]?.sentence).toBe(`There is nothing at ${path.join(jobs, 'nowhere')}.`)
  })

  test.each([
    ['gone', (folder: string) => fs.renameSync(folder, `${folder} elsewhere`), /^There is nothing at /],
    [
      'empty, as the folder of a share that is not connected',
      (folder: string) => {
        fs.renameSync(folder, `${folder} elsewhere`)
        fs.mkdirSync(folder)
      },
      /is empty where there were jobs, so its share may not be connected\.$/,
    ],
    [
      'a link that leads round in a circle',
      (folder: string) => {
        fs.renameSync(folder, `${folder} elsewhere`)
        fs.symlinkSync(folder, folder)
      },
      /leads round in a circle\.$/,
    ],
  ])('that is %s keeps what is indexed, with since when', async (_what, spoil, sentence) => {
    const { home, jobs } = twoFolders()
    jobFile(jobs, 'clinic', jobCalled('Clinic', 'K-1'))
    let now = '2026-11-20T08:00:00Z'
    const library = libraryOf(home, [jobs], { now: () => now })
    await library.refresh()
    spoil(jobs)
    for (now of ['2026-11-21T08:00:00Z', '2026-11-22T08:00:00Z']) {
      const { folders } = await library.refresh()
      expect(folders).toMatchObject([
        { reachable: false, awaySince: '2026-11-21T08:00:00Z', lookedAt: '2026-11-20T08:00:00Z', jobs: 1 },
      ])
      expect(folders[0]?.sentence).toMatch(sentence)
      const [found] = library.search('k1', 5)
      expect(found).toMatchObject({ jobName: 'Clinic' })
      expect(found?.sentence).toMatch(sentence)
    }
    fs.rmSync(jobs, { recursive: true, force: true })
    fs.renameSync(`${jobs} elsewhere`, jobs)
    expect((await library.refresh()).folders).toMatchObject([{ reachable: true, awaySince: null }])
    expect(library.search('k1', 5)).toMatchObject([{ sentence: null }])
  })

  test('whose links lead round in a circle, or to nowhere, or to a file twice, is looked through once', async () => {
    const { home, jobs } = twoFolders()
    fs.mkdirSync(path.join(jobs, 'a', 'b'), { recursive: true })
    const job = jobFile(path.join(jobs, 'a', 'b'), 'clinic')
    fs.symlinkSync(jobs, path.join(jobs, 'a', 'b', 'up'))
    fs.symlinkSync('nowhere', path.join(jobs, 'lost.lintelbook'))
    fs.symlinkSync('self.lintelbook', path.join(jobs, 'self.lintelbook'))
    fs.symlinkSync(job, path.join(jobs, 'again.lintelbook'))
    const state = await libraryOf(home, [jobs]).refresh()
    expect(state.files.map((file) => file.sentence)).toEqual([null])
    expect(state.jobs).toBe(1)
  })

  test('does not give its backups, hidden folders and other files', async () => {
    const { home, jobs } = twoFolders()
    for (const name of ['clinic.lintelbook-backups', '.hidden']) {
      fs.mkdirSync(path.join(jobs, name))
      jobFile(path.join(jobs, name), 'old')
    }
    fs.writeFileSync(path.join(jobs, 'letter.txt'), 'Dear Ada')
    expect((await libraryOf(home, [jobs]).refresh()).files).toEqual([])
  })

  test('that gives no answer is left, and the program goes on', async () => {
    const silent = new Worker(
      new URL(
        `data:text/javascript,${encodeURIComponent(`
          import { parentPort } from 'node:worker_threads'
          parentPort.postMessage({ says: 'looking', looking: { folder: 'Z:', file: null, done: 0, total: 0 } })
          Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0)`)}`,
      ),
    )
    const looked = await listen(
      silent,
      400,
      () => {},
      () => {},
    )
    expect(looked).toMatchObject({ outcome: 'silent', folder: 'Z:' })
    if (looked.outcome === 'silent') await looked.ended
  })
})

test('a file that takes more memory than there is ends the worker, which is told apart from a bug', async () => {
  const seen = { path: 'huge.lintelbook', real: 'huge.lintelbook', bytes: 9, modified: 9 }
  const hungry = (word: object, then: string): Worker =>
    new Worker(
      new URL(
        `data:text/javascript,${encodeURIComponent(`
          import { parentPort } from 'node:worker_threads'
          parentPort.postMessage(${JSON.stringify(word)})
          setTimeout(() => { ${then} }, 50)`)}`,
      ),
      { resourceLimits: { maxOldGenerationSizeMb: 64 } },
    )
  const word = { says: 'looking', looking: { folder: 'jobs', file: seen, done: 0, total: 1 } }
  const nothing = (): void => {}
  const large = hungry(word, 'const all = []; for (;;) all.push([all.length])')
  expect(await listen(large, 60_000, nothing, nothing)).toEqual({ outcome: 'too large', file: seen })
  await expect(listen(hungry(word, `throw new Error('a bug')`), 60_000, nothing, nothing)).rejects.toThrow(
    'a bug',
  )
})

test('a file that is gone while it is read, and one that is deleted, are forgotten', async () => {
  const { home, jobs } = twoFolders()
  const first = jobFile(jobs, 'a first', jobCalled('First', 'F-1'))
  const vanishing = jobFile(jobs, 'b vanishing', jobCalled('Vanishing', 'V-1'))
  age(vanishing, 1_700_000_900)
  const library = libraryOf(home, [jobs])
  const state = await library.refresh(({ file }) => {
    if (file !== null) fs.rmSync(vanishing, { force: true })
  })
  // The word of the first file may come too late; then the second was read, and the next look forgets it.
  if (state.files.length === 2) await library.refresh()
  expect(library.state().files.map((file) => file.jobName)).toEqual(['First'])
  expect(library.search('v1', 5).map((found) => found.jobName)).not.toContain('Vanishing')
  fs.rmSync(first)
  fs.writeFileSync(path.join(jobs, 'letter.txt'), 'so that the folder is not empty')
  expect((await library.refresh()).files).toEqual([])
  expect(library.search('f1', 5)).toEqual([])
})

const names = [
  'über straße 扉',
  "it's 100% #1? & [x]",
  ' blanks ',
  'line\nbreak',
  'quote"s',
  '🚪',
  "'; DROP TABLE job; --",
]
test('names of any characters', async () => {
  const { home, jobs } = twoFolders()
  for (const [index, name] of names.entries()) jobFile(jobs, name, jobCalled(name, `NM-${index}`))
  const library = libraryOf(home, [jobs])
  const state = await library.refresh()
  expect(state.files.filter((file) => file.sentence !== null)).toEqual([])
  for (const [index, name] of names.entries())
    expect(library.search(`nm${index}`, 1)[0]).toMatchObject({
      jobName: name,
      jobPath: path.join(jobs, `${name}.lintelbook`),
    })
})

test.skipIf(process.platform !== 'linux')('a name that is no text is listed with a sentence', async () => {
  const { home, jobs } = twoFolders()
  const job = jobFile(jobs, 'clinic')
  fs.renameSync(
    job,
    Buffer.concat([Buffer.from(`${jobs}/a`), Buffer.from([0xff]), Buffer.from('.lintelbook')]),
  )
  const { files } = await libraryOf(home, [jobs]).refresh()
  expect(files.map((file) => file.sentence)).toEqual([expect.stringContaining('give the file another name')])
})

const asNobody = process.getuid?.() === 0
test.skipIf(!asNobody)('a file and a folder that this person may not read (needs to start as root)', () => {
  const { home, jobs } = twoFolders()
  jobFile(jobs, 'open', jobCalled('Open', 'OP-1'))
  const closed = jobFile(jobs, 'closed')
  fs.mkdirSync(path.join(jobs, 'locked'))
  jobFile(path.join(jobs, 'locked'), 'inside')
  fs.chmodSync(closed, 0)
  fs.chmodSync(path.join(jobs, 'locked'), 0)
  for (
    let each = jobs;
    each !== path.dirname(each) && each.includes('lintelbook-');
    each = path.dirname(each)
  )
    fs.chmodSync(each, 0o777)
  const script = path.join(import.meta.dirname, 'child-looks.ts')
  const { stdout, stderr } = spawnSync(process.execPath, [script, home, jobs], {
    uid: 65_534,
    encoding: 'utf8',
  })
  expect(stderr).toBe('')
  expect(JSON.parse(stdout)).toEqual({
    sentences: {
      'closed.lintelbook': 'This machine does not let you read closed.lintelbook.',
      locked: `This machine does not let you look into ${path.join(jobs, 'locked')}.`,
      'open.lintelbook': null,
    },
    found: ['Open'],
    trouble: null,
  })
  fs.chmodSync(path.join(jobs, 'locked'), 0o755)
})
if (!asNobody)
  console.log('Skipped: the test of rights needs to start as root, to step down to somebody with fewer.')

describe('job files are only read', () => {
  const printOf = (folder: string): unknown =>
    fs
      .readdirSync(folder)
      .toSorted()
      .map((name) => {
        const file = path.join(folder, name)
        const sha256 = createHash('sha256').update(fs.readFileSync(file)).digest('hex')
        return [name, sha256, fs.statSync(file).mtimeMs, fs.statSync(file).ino]
      })

  test('bytes, times and neighbours are as they were', async () => {
    const { home, jobs } = twoFolders()
    for (const name of ['a', 'b']) jobFile(jobs, name, jobCalled(name, `M-${name}`))
    fs.copyFileSync(
      path.join(import.meta.dirname, '../../../fixtures/shipped-schemas/0001.lintelbook'),
      path.join(jobs, 'old.lintelbook'),
    )
    const before = printOf(jobs)
    const library = libraryOf(home, [jobs])
    const state = await library.refresh()
    expect(state.jobs, 'an older schema is read as well, without being upgraded').toBe(3)
    library.search('m a', 5)
    await library.refresh()
    expect(printOf(jobs)).toEqual(before)
  })

  test('one that is open for writing in this program is read, and stays its own', async () => {
    const { home, jobs } = twoFolders()
    const jobPath = jobFile(jobs, 'clinic', jobCalled('Clinic', 'W-1'))
    const opened = openJobFile(jobPath, optionsAt())
    if (!opened.ok) throw new Error(opened.sentence)
    const library = libraryOf(home, [jobs])
    expect((await library.refresh()).files).toMatchObject([{ sentence: null, jobName: 'Clinic' }])
    const done = opened.file.commit({
      name: 'Set mark',
      edits: [{ does: 'set', kind: 'opening', id: 'opening-1', from: { mark: 'W-1' }, to: { mark: 'W-2' } }],
    })
    expect(done.ok).toBe(true)
    await library.refresh()
    expect(library.search('w2', 1)).toMatchObject([{ title: 'W-2' }])
    const second = openJobFile(jobPath, optionsAt())
    expect(second.ok && second.file.readOnlyBecause?.code).toBe('held')
    if (second.ok) second.file.close()
    opened.file.close()
  })
})

test('only what changed is read again', async () => {
  const { home, jobs } = twoFolders()
  for (const name of ['a', 'b', 'c']) jobFile(jobs, name, jobCalled(name, `M-${name}`))
  const library = libraryOf(home, [jobs])
  const read = async (): Promise<string[]> => {
    const seen = new Set<string>()
    await library.refresh(({ file }) => file !== null && seen.add(path.basename(file, '.lintelbook')))
    return [...seen]
  }
  expect(await read()).toEqual(['a', 'b', 'c'])
  expect(await read()).toEqual([])
  const opened = openJobFile(path.join(jobs, 'b.lintelbook'), optionsAt())
  if (!opened.ok) throw new Error(opened.sentence)
  opened.file.commit({
    name: 'Set mark',
    edits: [{ does: 'set', kind: 'opening', id: 'opening-1', from: { mark: 'M-b' }, to: { mark: 'N-b' } }],
  })
  opened.file.close()
  expect(await read()).toEqual(['b'])
  expect(library.search('n-b', 1)[0]?.title).toBe('N-b')
  expect(library.search('m-b', 1)[0]?.title).not.toBe('M-b')
  age(path.join(jobs, 'c.lintelbook'), 1_700_005_000)
  expect(await read(), 'b was written so lately that it is looked at once more').toEqual(['c', 'b'])
})

test('a job that moved folders is found where it is, by any path', async () => {
  const { home, jobs } = twoFolders()
  const other = temporaryFolder()
  const job = jobFile(jobs, 'clinic', jobCalled('Clinic', 'MV-1'))
  fs.writeFileSync(path.join(jobs, 'letter.txt'), 'Dear Ada')
  const library = libraryOf(home, [jobs, other])
  await library.refresh()
  fs.renameSync(job, path.join(other, 'clinic.lintelbook'))
  await library.refresh()
  expect(library.search('mv1', 5).map((found) => found.jobPath)).toEqual([
    path.join(other, 'clinic.lintelbook'),
  ])
  // Another shelf on the same index has its own folders only.
  const elsewhere = libraryOf(home, [jobs])
  expect(elsewhere.search('mv1', 5)).toEqual([])
  expect(smallRecords().opening).toHaveLength(3)
})

// The shelf, opening, holding, and what the program keeps between starts.
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { plainPreferences } from '../../../core/contract/index.ts'
import { plainArrangement } from '../../../core/schedule/index.ts'
import { start, startEmpty, temporaryFolder } from './support.ts'

const childOpens = path.resolve(import.meta.dirname, '../store/child-opens.ts')

describe('starting', () => {
  test('the first start opens a copy of the demo job; the next one opens the job that was open last', async () => {
    const home = temporaryFolder()
    const first = await start(home)
    const shelf = await first.ask('shelf.read', {})
    expect(shelf.open).toMatchObject({
      jobName: 'Harrow Street Clinic',
      fileName: 'Harrow Street Clinic',
      openings: 148,
      readOnly: null,
      undoName: null,
    })
    expect(shelf.entries.map((entry) => entry.fileName)).toEqual(['Harrow Street Clinic'])
    await first.ask('job.make', { name: 'Ward block' })
    await first.close()

    const second = await start(home)
    const next = await second.ask('shelf.read', {})
    expect(next.open?.jobName).toBe('Ward block')
    expect(next.entries.map((entry) => entry.fileName).toSorted()).toEqual([
      'Harrow Street Clinic',
      'Ward block',
    ])
    await second.close()
  })

  test('where the last job is gone but others are there, the shelf is shown and no demo is made again', async () => {
    const home = temporaryFolder()
    const first = await start(home)
    const { path: jobPath } = await first.ask('job.make', { name: 'Ward block' })
    await first.close()
    rmSync(jobPath)
    rmSync(path.join(home, 'preferences.json'))
    const second = await start(home)
    const shelf = await second.ask('shelf.read', {})
    expect(shelf.open).toBeNull()
    expect(shelf.entries.map((entry) => entry.fileName)).toEqual(['Harrow Street Clinic'])
    expect((await second.refusal('schedule.read', {})).sentence).toBe(
      'No job is open. Choose one from the shelf, or make a new one.',
    )
    await second.close()
  })

  test('a file asked for that cannot be opened is said on the shelf', async () => {
    const home = temporaryFolder()
    const running = await start(home, { openPath: path.join(home, 'lost.lintelbook') })
    expect(await running.ask('shelf.read', {})).toMatchObject({
      open: null,
      trouble: 'There is no file lost.lintelbook at this place.',
    })
  })

  test('the demo opened again is a fresh copy; the earlier one keeps what was done to it', async () => {
    const home = temporaryFolder()
    const running = await start(home)
    const row = await running.row('101')
    await running.change({ does: 'remove openings', openingIds: [row.id] })
    const again = await running.ask('job.openDemo', {})
    expect(again).toMatchObject({ fileName: 'Harrow Street Clinic 2', openings: 148 })
    const before = await running.ask('job.open', {
      path: path.join(home, 'jobs', 'Harrow Street Clinic.lintelbook'),
      readOnly: false,
    })
    expect(before.openings).toBe(147)
  })
})

describe('making and opening', () => {
  test('a new job has a building, a level, parts and typicals, and no opening', async () => {
    const running = await startEmpty()
    const { frame, rows, parts, state } = await running.schedule()
    expect(frame.buildings).toHaveLength(1)
    expect(frame.levels.map((level) => level.name)).toEqual(['Level 1'])
    expect(frame.typicals.length).toBeGreaterThan(5)
    expect(parts.length).toBeGreaterThan(20)
    expect(rows).toEqual([])
    expect(state).toMatchObject({ jobName: 'Ward block', revision: 0, readOnly: null })
  })

  test.each([
    ['Ward: block / "3"?', 'Ward block 3'],
    ['..', 'Job'],
    ['NUL', 'Job NUL'],
    ['  Spital Süd  ', 'Spital Süd'],
    ['x'.repeat(190), 'x'.repeat(100)],
  ])('the name %j becomes the file %j', async (name, fileName) => {
    const running = await startEmpty()
    const made = await running.ask('job.make', { name })
    expect(made).toMatchObject({ fileName, jobName: name.trim() })
    expect((await running.ask('job.make', { name })).fileName).toBe(`${fileName} 2`)
  })

  test('a name of blanks makes nothing', async () => {
    const running = await startEmpty()
    const before = await running.ask('shelf.read', {})
    expect(await running.refusal('job.make', { name: '   ' })).toEqual({
      code: 'not-possible',
      sentence: 'A job needs a name. Nothing was made.',
    })
    expect(await running.ask('shelf.read', {})).toEqual(before)
  })

  test('where no job can be made, the program starts all the same and says so', async () => {
    const jobsFolder = path.join(temporaryFolder(), 'jobs')
    writeFileSync(jobsFolder, 'not a folder')
    const running = await start(temporaryFolder(), { jobsFolder })
    const sentence = `New jobs go into the folder ${jobsFolder}, and it cannot be written.`
    expect(await running.ask('shelf.read', {})).toMatchObject({ entries: [], open: null, trouble: sentence })
    expect(await running.refusal('job.make', { name: 'Ward block' })).toEqual({
      code: 'no-jobs-folder',
      sentence,
    })
  })

  test('a refused file leaves the open job open', async () => {
    const running = await startEmpty()
    const foreign = path.join(running.home, 'foreign.lintelbook')
    writeFileSync(foreign, 'Dear all, please find the schedule attached.\n'.repeat(50))
    writeFileSync(path.join(running.home, 'empty.lintelbook'), '')
    mkdirSync(path.join(running.home, 'folder.lintelbook'))
    const before = readFileSync(foreign)
    for (const [name, code, sentence] of [
      ['lost.lintelbook', 'missing', 'There is no file lost.lintelbook at this place.'],
      [
        'foreign.lintelbook',
        'not-a-job',
        'foreign.lintelbook is not a Lintelbook job file; it was left as it is.',
      ],
      [
        'empty.lintelbook',
        'empty',
        'empty.lintelbook is empty, so there is no job in it; look for a backup beside it.',
      ],
      ['folder.lintelbook', 'folder', 'folder.lintelbook is a folder, not a job file.'],
      ['doors.xlsx', 'not-a-job', 'Job files end in .lintelbook; this one does not: doors.xlsx.'],
    ] as const) {
      const problem = await running.refusal('job.open', {
        path: path.join(running.home, name),
        readOnly: false,
      })
      expect(problem).toEqual({ code, sentence })
      expect((await running.schedule()).state.jobName).toBe('Ward block')
    }
    expect(readFileSync(foreign).equals(before)).toBe(true)
    expect(readdirSync(running.home).filter((name) => name.startsWith('foreign'))).toEqual([
      'foreign.lintelbook',
    ])
    // And it can still be written.
    expect((await running.change({ does: 'add building', name: 'Annex' })).name).toBe('Add building Annex')
  })

  test('opening the job that is open opens it anew, by whatever path', async () => {
    const running = await startEmpty()
    const { state } = await running.schedule()
    const other = path.join(running.home, 'another-way.lintelbook')
    symlinkSync(state.path, other)
    for (const jobPath of [state.path, other])
      expect(await running.ask('job.open', { path: jobPath, readOnly: false })).toMatchObject({
        jobName: 'Ward block',
        readOnly: null,
      })
  })

  test('a dialog that was left without a choice changes nothing', async () => {
    const running = await startEmpty({ chooseJobFile: async () => null })
    expect(await running.ask('job.choose', {})).toEqual({ state: null })
    expect((await running.schedule()).state.jobName).toBe('Ward block')
    expect((await running.ask('shelf.read', {})).hasFileDialog).toBe(true)
  })

  test('a backup is made where it says', async () => {
    const running = await startEmpty()
    const { path: backup } = await running.ask('job.backUp', {})
    expect(existsSync(backup)).toBe(true)
  })

  test('after closing, every call that needs a job says that none is open', async () => {
    const running = await startEmpty()
    await running.ask('job.close', {})
    const paper = { arrangement: plainArrangement, columns: [] }
    for (const problem of [
      await running.refusal('schedule.read', {}),
      await running.refusal('change.undo', {}),
      await running.refusal('find.words', { words: 'a', limit: 5 }),
      await running.refusal('intake.file', { fileName: 'a.csv', base64: '' }),
      await running.refusal('intake.paste', { text: 'Mark\tHand\n101\tLH' }),
      await running.refusal('print.schedule', { pageSize: 'a4', ...paper }),
      await running.refusal('export.schedule', { form: 'csv', ...paper }),
      await running.refusal('twin.write', {}),
    ])
      expect(problem.code).toBe('no-job')
  })
})

describe('a job held by another process', () => {
  test('opens read-only with a sentence that says who holds it, and can be written when they have let go', async () => {
    const running = await startEmpty()
    const { path: jobPath } = (await running.schedule()).state
    await running.ask('job.close', {})
    const child = spawn(process.execPath, [childOpens, jobPath, 'hold', 'Ben Desk'], {
      stdio: ['pipe', 'pipe', 'inherit'],
    })
    try {
      await once(child.stdout, 'data')
      const state = await running.ask('job.open', { path: jobPath, readOnly: false })
      expect(state.readOnly).toMatch(
        /^Ben Desk has had .*Ward block.* open on .+ since .+; you can read it meanwhile\.$/,
      )
      expect((await running.schedule()).rows).toEqual([])
      const problem = await running.refusal('change.make', {
        command: { does: 'add building', name: 'Annex' },
      })
      expect(problem).toMatchObject({ code: 'held', sentence: state.readOnly })
    } finally {
      child.stdin.end()
      await once(child, 'exit')
    }
    const state = await running.ask('job.open', { path: jobPath, readOnly: false })
    expect(state.readOnly).toBeNull()
  })

  test('a second program looks on: it is told of changes, and only of changes', async () => {
    const writing = await startEmpty()
    const { state, frame } = await writing.schedule()
    const looking = await start(temporaryFolder(), { openPath: state.path, who: 'Ben Desk' })
    const seen = await looking.schedule()
    expect(seen.state.readOnly).toMatch(/^Ada Fitter has had .*Ward block/)
    expect(await looking.ask('schedule.since', { revision: seen.state.revision })).toEqual({ snapshot: null })
    const [level] = frame.levels
    await writing.change({
      does: 'add openings',
      levelId: level?.id ?? '',
      firstMark: '101',
      count: 3,
    })
    const { snapshot } = await looking.ask('schedule.since', { revision: seen.state.revision })
    expect(snapshot?.rows.map((row) => row.mark).toSorted()).toEqual(['101', '102', '103'])
    expect(snapshot?.state.undoName).toBe('Add 3 openings to Level 1')
    await writing.ask('change.undo', {})
    const after = await looking.ask('schedule.since', { revision: snapshot?.state.revision ?? 0 })
    expect(after.snapshot?.rows).toEqual([])
    const revision = after.snapshot?.state.revision ?? 0
    expect(await looking.ask('schedule.since', { revision })).toEqual({ snapshot: null })
  })

  test('asked for to read only, it says so', async () => {
    const running = await startEmpty()
    const { path: jobPath } = (await running.schedule()).state
    const state = await running.ask('job.open', { path: jobPath, readOnly: true })
    expect(state.readOnly).toBe('This job is open for reading only.')
    expect(await running.refusal('change.undo', {})).toMatchObject({ code: 'read-only' })
  })
})

describe('preferences', () => {
  const preferences = {
    ...plainPreferences,
    columns: ['mark', 'hand'],
    widths: { mark: 88 },
    arrangement: { ...plainArrangement, group: 'typical' },
    scheme: 'dark',
    gates: false,
  } as const

  test('are kept over a restart', async () => {
    const running = await startEmpty()
    await running.ask('preferences.set', { preferences: { ...preferences, columns: ['mark', 'hand'] } })
    await running.close()
    const again = await start(running.home)
    expect((await again.schedule()).preferences).toEqual(preferences)
  })

  test.each([
    ['cut short', '{"window":{"columns":["ma'],
    ['of another form', '{"window":{},"recent":[],"matchings":[]}'],
    ['empty', ''],
  ])('a file %s is set aside and begun anew', async (_, text) => {
    const running = await startEmpty()
    await running.ask('preferences.set', { preferences: { ...preferences, columns: ['mark', 'hand'] } })
    const { path: openPath } = (await running.schedule()).state
    await running.close()
    const file = path.join(running.home, 'preferences.json')
    writeFileSync(file, text)
    const again = await start(running.home, { openPath })
    expect((await again.schedule()).preferences).toEqual(plainPreferences)
    expect(readFileSync(`${file}.unreadable`, 'utf8')).toBe(text)
    expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({ recent: [openPath] })
  })

  test('that cannot be written do not stand in the way of the work', async () => {
    const home = path.join(temporaryFolder(), 'a-file')
    writeFileSync(home, 'not a folder')
    const running = await start(home, { jobsFolder: temporaryFolder() })
    await running.ask('preferences.set', { preferences: { ...preferences, columns: ['mark', 'hand'] } })
    const { state, preferences: kept } = await running.schedule()
    expect(state.jobName).toBe('Harrow Street Clinic')
    expect(kept.scheme).toBe('dark')
  })
})

// Restoring and repairing as people do it on the command line.
import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { makeJobFile, openJobFile } from '../../../electron/store/index.ts'
import { fileOf, opening, optionsAt, smallRecords, temporaryFolder } from '../store/support.ts'

const program = path.resolve(import.meta.dirname, '../../../electron/cli.ts')

const run = (folder: string, ...words: string[]): { code: number | null; out: string; err: string } => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, LINTELBOOK_HOME: folder },
  })
  return { code: status, out: stdout, err: stderr }
}

/** A damaged job of four openings, one of them added by a change, with a backup of all. */
function damagedJob(): { folder: string; jobPath: string } {
  const folder = temporaryFolder()
  const jobPath = path.join(folder, 'clinic.lintelbook')
  const file = fileOf(makeJobFile(jobPath, smallRecords(), optionsAt()))
  expect(
    file.commit({ name: 'Add 9', edits: [{ does: 'add', kind: 'opening', record: opening(9) }] }).ok,
  ).toBe(true)
  expect(file.backup().ok).toBe(true)
  file.close()
  const bytes = fs.readFileSync(jobPath)
  bytes.fill(0xff, 0, 16)
  fs.writeFileSync(jobPath, bytes)
  return { folder, jobPath }
}

const openingsIn = (jobPath: string): number => {
  const file = fileOf(openJobFile(jobPath, optionsAt(undefined, { readOnly: true })))
  const count = file.data.count('opening')
  file.close()
  return count
}

test('restore lists the backups, goes back to the newest, and sets aside what was there', () => {
  const { folder, jobPath } = damagedJob()
  const damaged = fs.readFileSync(jobPath)
  const listed = run(folder, 'restore', 'clinic.lintelbook', '--list')
  expect(listed).toMatchObject({ code: 0, err: '' })
  expect(listed.out).toMatch(/^2026-03-05T12:00:\d\dZ {2}after 1 changes {2}.+ r1\.lintelbook\n$/)
  const { code, out, err } = run(folder, 'restore', 'clinic.lintelbook')
  expect([code, err]).toEqual([0, ''])
  expect(out).toMatch(
    /^clinic\.lintelbook is as it was in clinic .+ r1\.lintelbook\.\nWhat was there is set aside as /,
  )
  expect(openingsIn(jobPath)).toBe(4)
  expect(fs.readFileSync(out.trim().split('set aside as ')[1] ?? '').equals(damaged)).toBe(true)
})

test('restore without a backup, and with both of its options', () => {
  const folder = temporaryFolder()
  expect(run(folder, 'restore', 'clinic.lintelbook')).toEqual({
    code: 1,
    out: '',
    err: 'There is no backup of clinic.lintelbook beside it.\n',
  })
  expect(run(folder, 'restore', 'clinic.lintelbook', '--list', '--from', 'a').code).toBe(2)
})

test('repair makes a new file beside the damaged one, and says what is not as it was', () => {
  const { folder, jobPath } = damagedJob()
  const damaged = fs.readFileSync(jobPath)
  const { code, out, err } = run(folder, 'repair', 'clinic.lintelbook')
  expect([code, err]).toEqual([0, ''])
  expect(out).toMatch(/^Made clinic repaired\.lintelbook with \d+ rows\.\nEverything could be read\.\n$/)
  expect(openingsIn(path.join(folder, 'clinic repaired.lintelbook'))).toBe(4)
  expect(fs.readFileSync(jobPath).equals(damaged)).toBe(true)
  expect(run(folder, 'repair', 'clinic.lintelbook')).toMatchObject({
    code: 1,
    err: 'There already is a file clinic repaired.lintelbook; nothing was written over it.\n',
  })
  const asJson = run(folder, 'repair', 'clinic.lintelbook', '--to', 'b.lintelbook', '--json')
  expect(JSON.parse(asJson.out)).toMatchObject({ path: 'b.lintelbook', fromJournal: 0, losses: [] })
})

test('repair of a letter makes nothing', () => {
  const folder = temporaryFolder()
  fs.writeFileSync(path.join(folder, 'letter.lintelbook'), 'Dear Ada,\n'.repeat(900))
  const { code, out, err } = run(folder, 'repair', 'letter.lintelbook')
  expect([code, out]).toEqual([1, ''])
  expect(err).toMatch(
    /^Nothing can be read from letter\.lintelbook \(its list of tables is gone\); it was left as it is/,
  )
  expect(fs.readdirSync(folder)).toEqual(['letter.lintelbook'])
})

test.each(['restore', 'repair'])('help for %s, with an example', (verb) => {
  const { code, out } = run(temporaryFolder(), 'help', verb)
  expect(code).toBe(0)
  expect(out).toMatch(new RegExp(`^lintelbook ${verb} JOB`))
  expect(out).toMatch(/\nExamples?:\n {2}lintelbook /)
})

import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { crashFolder, noteCrash } from '../../../electron/crash-notes.ts'

const home = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-crashes-'))
afterEach(() => rmSync(home, { recursive: true, force: true }))

test('a note holds the time, what it was and where; the newest 20 stay, and other files too', () => {
  const file =
    noteCrash(home, 'The program ended', new Error('out of doors'), '2026-03-05T12:00:00.000Z') ?? ''
  expect(path.basename(file)).toBe('crash 2026-03-05T120000.000Z.txt')
  const text = readFileSync(file, 'utf8')
  expect(text).toMatch(
    /^2026-03-05T12:00:00\.000Z\nThe program ended\n.+, Node .+\n\nError: out of doors\n {4}at /,
  )
  writeFileSync(path.join(crashFolder(home), 'minidump.dmp'), '')
  for (let day = 1; day <= 25; day++)
    noteCrash(home, 'again', 'a reason', `2026-04-${String(day).padStart(2, '0')}T00:00:00Z`)
  const names = readdirSync(crashFolder(home)).toSorted()
  expect(names).toHaveLength(21)
  expect([names[0], names[19], names[20]]).toEqual([
    'crash 2026-04-06T000000Z.txt',
    'crash 2026-04-25T000000Z.txt',
    'minidump.dmp',
  ])
})

test('a note that cannot be kept is none, and no error', () => {
  const blocked = path.join(os.tmpdir(), `lintelbook-blocked-${process.pid}`)
  writeFileSync(blocked, 'a file where the folder should be')
  expect(noteCrash(blocked, 'x', new Error('y'), '2026-03-05T12:00:00Z')).toBeNull()
  rmSync(blocked)
})

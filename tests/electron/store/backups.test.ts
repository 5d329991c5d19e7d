import fs from 'node:fs'
import { describe, expect, test } from 'vitest'
import { keepBackups, listBackups, openJobFile, type JobFile } from '../../../electron/store/index.ts'
import { fileOf, optionsAt, smallJob } from './support.ts'

const setNotes = (file: JobFile, to: string): void => {
  const from = file.data.get('opening', 'opening-1')?.notes ?? null
  const result = file.commit({
    name: 'Set notes',
    edits: [{ does: 'set', kind: 'opening', id: 'opening-1', from: { notes: from }, to: { notes: to } }],
  })
  expect(result.ok).toBe(true)
}

const openAt = (file: JobFile, time: string): JobFile => {
  file.close()
  return fileOf(openJobFile(file.path, optionsAt(time)))
}

describe('a day’s backup', () => {
  test('is made at opening when something changed since the newest, which is a day old', () => {
    let file = smallJob()
    const count = (): number => listBackups(file.path).length
    file = openAt(file, '2026-03-06T09:00:00Z')
    expect(count(), 'nothing changed yet').toBe(0)
    setNotes(file, 'first')
    file = openAt(file, '2026-03-06T10:00:00Z')
    expect(count(), 'the first one').toBe(1)
    setNotes(file, 'second')
    file = openAt(file, '2026-03-06T23:00:00Z')
    expect(count(), 'not a day later').toBe(1)
    file = openAt(file, '2026-03-07T11:00:00Z')
    expect(count(), 'a day later').toBe(2)
    file = openAt(file, '2026-03-09T11:00:00Z')
    expect(count(), 'nothing changed since').toBe(2)
    expect(listBackups(file.path).map((backup) => [backup.madeAt.slice(0, 10), backup.revision])).toEqual([
      ['2026-03-06', 1],
      ['2026-03-07', 2],
    ])
  })

  test('is a whole job of its own, as it was then', () => {
    let file = smallJob()
    setNotes(file, 'then')
    file = openAt(file, '2026-03-08T09:00:00Z')
    setNotes(file, 'now')
    const old = fileOf(openJobFile(listBackups(file.path)[0]?.path ?? '', optionsAt()))
    expect([old.data.get('opening', 'opening-1')?.notes, old.readOnly, old.undoName]).toEqual([
      'then',
      false,
      'Set notes',
    ])
  })

  test('is made when the clock that made the newest ran ahead', () => {
    let file = smallJob()
    setNotes(file, 'first')
    file = openAt(file, '2031-01-01T00:00:00Z')
    setNotes(file, 'second')
    file = openAt(file, '2026-03-08T09:00:00Z')
    expect(listBackups(file.path).map((backup) => backup.madeAt.slice(0, 4))).toEqual(['2026', '2031'])
  })

  test('that cannot be made is told, and does not stand in the way', () => {
    let file = smallJob()
    setNotes(file, 'first')
    file.close()
    fs.writeFileSync(`${file.path}-backups`, 'a file where the folder should be')
    file = fileOf(openJobFile(file.path, optionsAt()))
    expect(file.notices.map((problem) => problem.code)).toEqual(['no-backup-today'])
    setNotes(file, 'second')
  })

  test('on asking; what was left half made is not listed', () => {
    const file = smallJob()
    expect(file.backup()).toMatchObject({ ok: true, backup: { revision: 0 } })
    fs.writeFileSync(`${listBackups(file.path)[0]?.path}.partial`, 'half')
    expect(listBackups(file.path)).toHaveLength(1)
    expect(file.backupWhenDue()).toEqual({ ok: true, backup: null })
  })

  test('thins out the old ones', () => {
    const file = smallJob(optionsAt('2026-03-05T12:00:00Z'))
    for (let number = 0; number < 14; number++) {
      setNotes(file, `number ${number}`)
      expect(file.backup().ok).toBe(true)
    }
    expect(listBackups(file.path).map((backup) => backup.revision)).toEqual([
      5, 6, 7, 8, 9, 10, 11, 12, 13, 14,
    ])
  })
})

const day = 86_400_000
const daysBefore = (now: string, count: number): string =>
  new Date(Date.parse(now) - count * day).toISOString()

describe('keepBackups', () => {
  const now = '2026-11-25T12:00:00Z'

  test('of one a day for three years keeps 14 days, 8 weeks, 12 months', () => {
    const times = Array.from({ length: 1095 }, (_, count) => daysBefore(now, count))
    const kept = keepBackups(times, now)
    const ages = kept
      .map((time) => Math.round((Date.parse(now) - Date.parse(time)) / day))
      .toSorted((a, b) => a - b)
    expect(ages.slice(0, 14), 'each of 14 days').toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13])
    // 2026-11-25 is a Wednesday: the newest of each week is its Sunday, 3, 10, 17 ... days ago.
    for (const age of [17, 24, 31, 38, 45, 52]) expect(ages, 'the Sundays of 8 weeks').toContain(age)
    const months = new Set(kept.map((time) => time.slice(0, 7)))
    expect(months.size, 'this month and 12 before, the last of them while it is within a year').toBe(13)
    expect(Math.max(...ages)).toBeLessThanOrEqual(366)
    expect(kept.length).toBeLessThanOrEqual(10 + 14 + 8 + 13)
  })

  test('keeps the last ten however close together', () => {
    const times = Array.from({ length: 30 }, (_, count) =>
      new Date(Date.parse(now) - count * 60_000).toISOString(),
    )
    expect(keepBackups(times, now)).toEqual(times.slice(0, 10))
  })

  test('keeps ten very old ones when there are no newer', () => {
    const times = Array.from({ length: 12 }, (_, count) => daysBefore(now, 2000 + count))
    expect(keepBackups(times, now)).toEqual(times.slice(0, 10))
  })

  test('keeps those from a clock that ran ahead, beside ten of the past', () => {
    const ahead = [daysBefore(now, -400), daysBefore(now, -1)]
    const times = Array.from({ length: 12 }, (_, count) =>
      new Date(Date.parse(now) - count * 1000).toISOString(),
    )
    expect(keepBackups([...ahead, ...times], now)).toEqual([...ahead, ...times.slice(0, 10)])
  })

  test('of none keeps none', () => expect(keepBackups([], now)).toEqual([]))
})

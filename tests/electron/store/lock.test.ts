import { spawn, type ChildProcess } from 'node:child_process'
import { once } from 'node:events'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { createInterface } from 'node:readline'
import { afterEach, describe, expect, test } from 'vitest'
import { openJobFile } from '../../../electron/store/index.ts'
import { takeLock } from '../../../electron/store/lock.ts'
import { fileOf, optionsAt, smallJob } from './support.ts'

const children: ChildProcess[] = []
afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL')
})

interface Holding {
  readonly child: ChildProcess
  readonly line: Record<string, unknown>
}

/** Another process that opens the job and holds it; resolves when it has said what it got. */
async function otherProcess(jobPath: string, who = 'Ben Desk'): Promise<Holding> {
  const script = path.join(import.meta.dirname, 'child-opens.ts')
  const child = spawn(process.execPath, [script, jobPath, 'hold', who], {
    stdio: ['pipe', 'pipe', 'inherit'],
  })
  children.push(child)
  const lines = createInterface({ input: child.stdout })
  const [line] = (await once(lines, 'line')) as [string]
  return { child, line: JSON.parse(line) as Record<string, unknown> }
}

async function killed({ child }: Holding): Promise<void> {
  child.kill('SIGKILL')
  await once(child, 'exit')
}

const setNotes = (from: string | null, to: string) => ({
  name: 'Set notes',
  edits: [
    { does: 'set', kind: 'opening', id: 'opening-1', from: { notes: from }, to: { notes: to } } as const,
  ],
})

describe('two programs on one file', () => {
  test('the second can read, and is told who holds it', async () => {
    const file = smallJob()
    expect(file.holder).toMatchObject({ name: 'Ada Fitter', machine: os.hostname() })
    const other = await otherProcess(file.path)
    expect(other.line).toMatchObject({
      ok: true,
      readOnly: true,
      because: 'held',
      holder: 'Ada Fitter',
      openings: 3,
    })
    expect(file.commit(setNotes(null, 'still mine')).ok).toBe(true)
  })

  test('the sentence names the holder, the machine and the time; changes are refused', async () => {
    const first = smallJob()
    first.close()
    await otherProcess(first.path)
    const file = fileOf(openJobFile(first.path, optionsAt()))
    expect(file.readOnlyBecause).toMatchObject({
      code: 'held',
      holder: { name: 'Ben Desk', since: '2026-03-05T13:00:00Z' },
    })
    const refused = file.commit(setNotes(null, 'mine'))
    expect(refused.ok ? '' : refused.sentence).toBe(
      `Ben Desk has had clinic.lintelbook open on ${os.hostname()} since 2026-03-05T13:00:00Z; you can read it meanwhile.`,
    )
    expect(file.undo().ok).toBe(false)
  })

  test('when the first is killed, the next one gets it', async () => {
    const first = smallJob()
    first.close()
    const holder = await otherProcess(first.path)
    expect(fileOf(openJobFile(first.path, optionsAt())).readOnly).toBe(true)
    await killed(holder)
    expect(fs.existsSync(`${first.path}-lock`)).toBe(true)
    const file = fileOf(openJobFile(first.path, optionsAt()))
    expect([file.readOnly, file.holder?.name]).toEqual([false, 'Ada Fitter'])
    file.close()
    expect(fs.existsSync(`${first.path}-lock`)).toBe(false)
  })

  test('when the first closes, nobody holds it, and the next one gets it', async () => {
    const file = smallJob()
    const reader = fileOf(openJobFile(file.path, optionsAt(undefined, { readOnly: true })))
    expect(reader.holder?.name).toBe('Ada Fitter')
    file.close()
    expect(reader.holder).toBeNull()
    const other = await otherProcess(file.path)
    expect(other.line).toMatchObject({ ok: true, readOnly: false })
  })

  test('of many that start at once exactly one may write', async () => {
    const first = smallJob()
    first.close()
    const all = await Promise.all(['A', 'B', 'C', 'D', 'E', 'F'].map((who) => otherProcess(first.path, who)))
    expect(all.filter(({ line }) => line['readOnly'] === false)).toHaveLength(1)
    const holder = all.find(({ line }) => line['readOnly'] === false)?.line['holder']
    expect(all.map(({ line }) => line['holder'])).toEqual(all.map(() => holder))
  })

  test('in one process too', () => {
    const file = smallJob()
    const again = fileOf(openJobFile(file.path, optionsAt(undefined, { who: 'Cy' })))
    expect([again.readOnly, again.holder?.name]).toEqual([true, 'Ada Fitter'])
    again.close()
    expect(file.commit(setNotes(null, 'still written')).ok).toBe(true)
  })
})

describe('a read-only view', () => {
  test('sees what was written when it refreshes, and only then reads again', () => {
    const file = smallJob()
    const reader = fileOf(openJobFile(file.path, optionsAt()))
    expect(reader.refresh()).toEqual({ ok: true, changed: false })
    file.commit(setNotes(null, 'written meanwhile'))
    expect(reader.data.get('opening', 'opening-1')?.notes).toBeNull()
    expect(reader.refresh()).toEqual({ ok: true, changed: true })
    expect(reader.data.get('opening', 'opening-1')?.notes).toBe('written meanwhile')
    expect([reader.revision, reader.undoName]).toEqual([1, 'Set notes'])
    expect(reader.refresh()).toEqual({ ok: true, changed: false })
  })
})

describe('the lock itself', () => {
  const holder = { name: 'Ada', machine: 'bench', program: 'test', since: '2026-03-05T12:00:00Z' }

  test('is not mistaken for held when its file was left behind, or is no database', () => {
    const file = smallJob()
    file.close()
    fs.writeFileSync(`${file.path}-lock`, 'not a database at all, but long enough to look at'.repeat(40))
    const outcome = takeLock(file.path, holder)
    expect(outcome.taken).toBe(true)
    if (outcome.taken) outcome.lock.release()
  })

  test('is seen through when the file it stands on was deleted under it', () => {
    const file = smallJob()
    file.close()
    const first = takeLock(file.path, holder)
    const second = takeLock(file.path, { ...holder, name: 'Ben' })
    expect(second).toMatchObject({ taken: false, heldBy: { name: 'Ada' } })
    if (first.taken) first.lock.release()
    const third = takeLock(file.path, { ...holder, name: 'Cy' })
    expect(third.taken).toBe(true)
    if (third.taken) third.lock.release()
    expect(fs.existsSync(`${file.path}-lock`)).toBe(false)
  })
})

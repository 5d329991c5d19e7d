// lintelbook find over folders, as people run it.
import { spawn } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { demoRecords } from '../../../fixtures/index.ts'
import { root } from '../../tools/tool.ts'
import { jobCalled, jobFile, twoFolders } from './support.ts'

interface Ran {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

function find(home: string, ...words: readonly string[]): Promise<Ran> {
  const child = spawn(process.execPath, [path.join(root, 'electron/cli.ts'), 'find', ...words], {
    env: { ...process.env, LINTELBOOK_HOME: home },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const texts = { out: '', err: '' }
  child.stdout.on('data', (chunk: Buffer) => (texts.out += chunk.toString('utf8')))
  child.stderr.on('data', (chunk: Buffer) => (texts.err += chunk.toString('utf8')))
  return new Promise((resolve) => child.once('close', (code) => resolve({ code, ...texts })))
}

test('folders named, and without any the folder of new jobs', async () => {
  const { home, jobs } = twoFolders()
  jobFile(jobs, 'clinic', demoRecords())
  fs.mkdirSync(path.join(home, 'jobs'), { recursive: true })
  jobFile(path.join(home, 'jobs'), 'depot', jobCalled('Quay Depot', 'Q-7'))
  const named = await find(home, 'the store room door on three', jobs, '--most', '1')
  expect(named).toEqual({ code: 0, out: 'Harrow Street Clinic: 324, 324 Store room, Level 3\n', err: '' })
  const usual = await find(home, 'q7', '--json')
  expect([usual.code, usual.err]).toEqual([0, ''])
  expect(JSON.parse(usual.out)).toEqual([
    {
      job: 'Quay Depot',
      path: path.join(home, 'jobs', 'depot.lintelbook'),
      kind: 'opening',
      id: 'opening-1',
      openingId: 'opening-1',
      title: 'Q-7',
      detail: '110 Store room, Level 1',
      without: [],
    },
  ])
  const lacking = await find(home, 'q7 zebra', '--most', '1')
  expect(lacking.out).toBe('Quay Depot: Q-7, 110 Store room, Level 1 (without "zebra")\n')
})

test('what cannot be read is said, the rest answers; a folder that went away answers from its index', async () => {
  const { home, jobs } = twoFolders()
  jobFile(jobs, 'clinic', jobCalled('Clinic', 'K-1'))
  fs.writeFileSync(path.join(jobs, 'letter.lintelbook'), 'Dear Ada,\n'.repeat(99))
  const first = await find(home, 'k1', jobs)
  expect(first).toEqual({
    code: 1,
    out: 'Clinic: K-1, 110 Store room, Level 1\n',
    err: 'letter.lintelbook is not a Lintelbook job file; it was left as it is.\n',
  })
  fs.rmSync(path.join(jobs, 'clinic.lintelbook'))
  fs.rmSync(path.join(jobs, 'letter.lintelbook'))
  const away = await find(home, 'k1', jobs)
  expect([away.code, away.out]).toEqual([1, first.out])
  expect(away.err).toMatch(
    /is empty where there were jobs.+Not reachable since .+; what was indexed of it answers\.\n/,
  )
  expect((await find(home, 'xyzzy', jobs)).err).toMatch(/Nothing found for "xyzzy"\.\n$/)
})

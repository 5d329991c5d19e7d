// npm run demo, as a process.
import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { openJobFile } from '../../../electron/store/index.ts'
import { missingTools } from '../../renderer/paper/printed.ts'
import { root } from '../../tools/tool.ts'

const home = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-demo-test-'))
afterAll(() => rmSync(home, { recursive: true, force: true }))
const folder = path.join(home, 'demo')

const demo = () =>
  spawnSync(process.execPath, ['electron/packaging/run.mjs', 'electron/packaging/demo.ts'], {
    cwd: root,
    env: { ...process.env, LINTELBOOK_HOME: home },
    encoding: 'utf8',
  })

test('makes the demo job, prints it twice, and says in short what is in it', () => {
  const { status, stdout, stderr } = demo()
  expect([status, stderr]).toEqual([0, ''])
  expect(readdirSync(folder).toSorted()).toEqual([
    'Harrow Street Clinic.lintelbook',
    'opening schedule, letter.pdf',
    'opening schedule, tabloid.pdf',
  ])
  const lines = stdout.trim().split('\n')
  expect(lines.length).toBeLessThan(15)
  expect(lines[0]).toBe('Harrow Street Clinic, an invented job: 148 openings')
  const levels = lines.filter((line) => line.startsWith('  ')).map((line) => Number(/\d+$/.exec(line)?.[0]))
  expect(levels).toHaveLength(5)
  expect(levels.reduce((sum, each) => sum + each, 0)).toBe(148)
  expect(stdout).toMatch(/^Open questions at \d+ openings: /m)
  expect(stdout).toMatch(/^Differ from their typical on purpose: \d+ openings$/m)
  for (const size of ['tabloid', 'letter'])
    expect(stdout).toMatch(new RegExp(`^Schedule, ${size}, \\d+ pages: .+${size}\\.pdf$`, 'm'))

  const opened = openJobFile(path.join(folder, 'Harrow Street Clinic.lintelbook'), {
    who: 'a test',
    now: () => '2026-03-02T08:00:00Z',
  })
  if (!opened.ok) throw new Error(opened.sentence)
  expect(opened.file.check()).toEqual({ sound: true, findings: [] })
  const marks = Array.from(opened.file.data.all('opening'), (opening) => opening.mark)
  opened.file.close()
  if (missingTools('pdftotext').length > 0) return
  for (const size of ['tabloid', 'letter']) {
    const file = path.join(folder, `opening schedule, ${size}.pdf`)
    const text = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' })
    const words = new Set(text.split(/\s+/))
    expect(marks.filter((mark) => !words.has(mark))).toEqual([])
  }
})

test('is fresh each time', () => {
  writeFileSync(path.join(folder, 'left over.txt'), 'from the last time')
  expect(demo().status).toBe(0)
  expect(readdirSync(folder)).not.toContain('left over.txt')
})

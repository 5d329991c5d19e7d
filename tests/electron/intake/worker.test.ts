import { execFileSync } from 'node:child_process'
import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'
import { strToU8, zipSync } from 'fflate'
import { expect, test } from 'vitest'
import { problemSentence, readFileBytes, readFileInWorker } from '../../../electron/intake/index.ts'
import { fixture, fixtureFolder } from './support.ts'

test.each([
  'headings-in-three-rows.xlsx',
  'clinic.ifczip',
  'umlauts-windows-1252.csv',
  'bomb-overlapping.xlsx',
])('%s: the worker answers as the reader does', async (name) => {
  expect(await readFileInWorker(name, fixture(name))).toEqual(await readFileBytes(name, fixture(name)))
})

test('the caller keeps its bytes', async () => {
  const bytes = new Uint8Array(fixture('duplicate-marks.csv'))
  await readFileInWorker('d.csv', bytes)
  expect(bytes.length).toBeGreaterThan(0)
})

test('names of the language survive the way out of the worker', async () => {
  const result = await readFileInWorker('u.ifc', fixture('ugly-records.ifc'))
  if (!result.ok || result.file.form !== 'model') throw new Error('not read')
  expect(Object.keys(result.file.model.doors[0]?.properties ?? {})).toEqual(['__proto__'])
})

test('a read that takes too long is stopped', async () => {
  const start = performance.now()
  const result = await readFileInWorker('slow.xlsx', fixture('five-thousand-rows.xlsx'), {
    timeLimitSeconds: 0.01,
  })
  expect(performance.now() - start).toBeLessThan(1000)
  expect(result).toEqual({ ok: false, problem: { code: 'too-slow', name: 'slow.xlsx', limitSeconds: 0.01 } })
})

test('a read that takes too much memory is stopped, and the program lives on', async () => {
  const rows = Array.from(
    { length: 60_000 },
    (_, index) => `<row r="${index + 1}"><c r="Z${index + 1}"><v>1</v></c></row>`,
  )
  const bytes = zipSync({
    '[Content_Types].xml': strToU8('<Types><Override ContentType="spreadsheetml.sheet.main+xml"/></Types>'),
    '_rels/.rels': strToU8(
      '<Relationships><Relationship Id="r" Type="x/officeDocument" Target="xl/workbook.xml"/></Relationships>',
    ),
    'xl/workbook.xml': strToU8(
      '<workbook xmlns:r="r"><sheets><sheet name="A" sheetId="1" r:id="rId1"/></sheets></workbook>',
    ),
    'xl/_rels/workbook.xml.rels': strToU8(
      '<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
    ),
    'xl/worksheets/sheet1.xml': strToU8(`<worksheet><sheetData>${rows.join('')}</sheetData></worksheet>`),
  })
  const result = await readFileInWorker('fat.xlsx', bytes, { memoryLimitMegabytes: 24 })
  expect(result).toEqual({ ok: false, problem: { code: 'too-much-memory', name: 'fat.xlsx' } })
  if (!result.ok) expect(problemSentence(result.problem)).toContain('needs more memory')
})

test('bundled by esbuild, the worker is found beside the bundle', async () => {
  const root = join(import.meta.dirname, '../../..')
  // Inside the project, so that packages left out of the bundle are found.
  const folder = join(root, '.cache', `intake-bundle-${process.pid}`)
  mkdirSync(folder, { recursive: true })
  try {
    const entry = join(folder, 'main.ts')
    const file = join(fixtureFolder, 'level-title-rows.xlsx')
    writeFileSync(
      entry,
      `import { readFileSync } from 'node:fs'
import { readFileInWorker } from ${JSON.stringify(join(root, 'electron/intake/index.ts'))}
const result = await readFileInWorker('d.xlsx', readFileSync(${JSON.stringify(file)}))
console.log(result.ok && result.file.form === 'sheets' ? result.file.sheets[0].rows.length : result)`,
    )
    await build({
      entryPoints: [entry, join(root, 'electron/intake/intake-worker.ts')],
      outdir: join(folder, 'out'),
      entryNames: '[name]',
      bundle: true,
      platform: 'node',
      format: 'esm',
      packages: 'external',
      logLevel: 'silent',
    })
    expect(execFileSync(process.execPath, [join(folder, 'out/main.js')], { encoding: 'utf8' }).trim()).toBe(
      '8',
    )
  } finally {
    rmSync(folder, { recursive: true })
  }
})

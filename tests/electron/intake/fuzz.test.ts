// Damaged files must end in rows or in a coded problem, soon: never in a throw, never in a hang.

import { unzipSync, zipSync } from 'fflate'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { problemSentence, readFileBytes, readFileInWorker } from '../../../electron/intake/index.ts'
import type { FileResult } from '../../../electron/intake/index.ts'
import { fixture } from './support.ts'

const SEED = 20_260_105
const LIMIT_MILLISECONDS = 2000

interface Change {
  readonly at: number
  readonly kind: 'set' | 'cut' | 'insert' | 'repeat'
  readonly byte: number
  readonly length: number
}

const changes = fc.array(
  fc.record({
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    kind: fc.constantFrom('set', 'set', 'cut', 'insert', 'repeat'),
    // Bytes that mean something to one reader or another come up often.
    byte: fc.oneof(fc.nat(255), fc.constantFrom(...Buffer.from('\'"#();*/\\$.<>&,;\n\u0000=-0919'))),
    length: fc.integer({ min: 1, max: 40 }),
  }),
  { minLength: 1, maxLength: 6 },
) as fc.Arbitrary<Change[]>

function changed(bytes: Uint8Array, list: readonly Change[]): Uint8Array {
  let out = Buffer.from(bytes)
  for (const { at, kind, byte, length } of list) {
    const place = Math.floor(at * out.length)
    const head = out.subarray(0, place)
    const piece = out.subarray(place, place + length)
    switch (kind) {
      case 'set':
        out = Buffer.concat([head, Buffer.from([byte]), out.subarray(place + 1)])
        break
      case 'cut':
        out = Buffer.concat([head, out.subarray(place + length)])
        break
      case 'insert':
        out = Buffer.concat([head, Buffer.alloc(length, byte), out.subarray(place)])
        break
      case 'repeat':
        out = Buffer.concat([head, piece, piece, out.subarray(place)])
        break
    }
  }
  return out
}

function checkResult(result: FileResult): void {
  if (!result.ok) expect(problemSentence(result.problem)).toMatch(/\.$/)
  else if (result.file.form === 'sheets') expect(result.file.sheets.length).toBeGreaterThan(0)
  else expect(result.file.model.schema).toMatch(/ifc/i)
}

async function readsOrRefuses(name: string, bytes: Uint8Array): Promise<void> {
  const start = performance.now()
  checkResult(await readFileBytes(name, bytes))
  expect(performance.now() - start).toBeLessThan(LIMIT_MILLISECONDS)
}

const FILES = [
  { name: 'clinic-in-feet.ifc', runs: 400 },
  { name: 'ugly-records.ifc', runs: 400 },
  { name: 'unclosed-quote.csv', runs: 200 },
  { name: 'umlauts-windows-1252.csv', runs: 200 },
  { name: 'wide-text.txt', runs: 100 },
  { name: 'marks-as-numbers.xlsx', runs: 150 },
  { name: 'clinic.ifczip', runs: 100 },
  { name: 'password.xlsx', runs: 50 },
] as const

describe('changed bytes', () => {
  test.each(FILES)('$name', async ({ name, runs }) => {
    const original = fixture(name)
    await fc.assert(
      fc.asyncProperty(changes, async (list) => readsOrRefuses(name, changed(original, list))),
      { seed: SEED, numRuns: runs },
    )
  })

  // Changed bytes of a zip mostly fail its checksums; so the parts inside are changed and packed again.
  test.each([
    'xl/worksheets/sheet1.xml',
    'xl/sharedStrings.xml',
    'xl/styles.xml',
    'xl/workbook.xml',
    '[Content_Types].xml',
  ])(
    'inside a workbook: %s',
    async (part) => {
      const parts = unzipSync(fixture('formulas.xlsx'))
      await fc.assert(
        fc.asyncProperty(changes, async (list) => {
          const bytes = zipSync(
            { ...parts, [part]: changed(parts[part] ?? new Uint8Array(), list) },
            { level: 0 },
          )
          await readsOrRefuses('f.xlsx', bytes)
        }),
        { seed: SEED, numRuns: 80 },
      )
    },
    20_000,
  )
})

test('any bytes at all', async () => {
  await fc.assert(
    fc.asyncProperty(fc.uint8Array({ maxLength: 300 }), async (bytes) => readsOrRefuses('any.csv', bytes)),
    { seed: SEED, numRuns: 300 },
  )
})

test('any text as CSV comes back in some row', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.string({ minLength: 1, maxLength: 60, unit: fc.constantFrom(...'ab1,;"\n\t|\' ') }),
      async (text) => readsOrRefuses('any.csv', new TextEncoder().encode(text)),
    ),
    { seed: SEED, numRuns: 500 },
  )
})

test('a few through the worker', async () => {
  await fc.assert(
    fc.asyncProperty(
      changes,
      fc.constantFrom('formulas.xlsx', 'ugly-records.ifc', 'bad-hands.csv'),
      async (list, name) => {
        checkResult(await readFileInWorker(name, changed(fixture(name), list), { timeLimitSeconds: 5 }))
      },
    ),
    { seed: SEED, numRuns: 4 },
  )
}, 20_000)

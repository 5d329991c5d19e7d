import { strToU8, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { checkZip } from '../../../electron/intake/zip-preflight.ts'

const LIMITS = { entries: 3, inflatedBytes: 1000 }

async function codeOf(bytes: Uint8Array): Promise<string> {
  const checked = await checkZip('z.zip', bytes, LIMITS)
  return checked.ok ? 'ok' : checked.problem.code
}

function zipOf(files: Record<string, string>): Uint8Array {
  return zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])))
}

/** Overwrites every occurrence of a name with another of the same length, so that fflate's own checks do not matter. */
function renamed(bytes: Uint8Array, from: string, to: string): Uint8Array {
  const copy = Buffer.from(bytes)
  for (let at = copy.indexOf(from); at >= 0; at = copy.indexOf(from, at + 1)) copy.write(to, at, 'latin1')
  return copy
}

describe('a zip is opened or refused', () => {
  test.each([
    ['three small files', zipOf({ a: '1', b: '2', c: '3' }), 'ok'],
    ['folders do not count as files', zipOf({ 'a/b': '1', 'a/c': '2' }), 'ok'],
    ['four files', zipOf({ a: '1', b: '2', c: '3', d: '4' }), 'too-many-entries'],
    ['1,000 bytes', zipOf({ a: 'x'.repeat(500), b: 'x'.repeat(500) }), 'ok'],
    ['1,001 bytes', zipOf({ a: 'x'.repeat(500), b: 'x'.repeat(501) }), 'too-big'],
    ['a way out', renamed(zipOf({ 'aa/aa': '1' }), 'aa/aa', '../aa'), 'unsafe-names'],
    ['a way out with backslashes', renamed(zipOf({ 'aa/aa': '1' }), 'aa/aa', '..\\aa'), 'unsafe-names'],
    ['an absolute name', renamed(zipOf({ 'aa/aa': '1' }), 'aa/aa', '/a/aa'), 'unsafe-names'],
    ['a drive', renamed(zipOf({ 'aa/aa': '1' }), 'aa/aa', 'C:/aa'), 'unsafe-names'],
    ['no end', zipOf({ a: '1' }).subarray(0, 40), 'truncated'],
    ['nothing', new Uint8Array(), 'truncated'],
  ] as const)('%s', async (_, bytes, code) => {
    expect(await codeOf(bytes)).toBe(code)
  })

  test('a wrong checksum', async () => {
    const bytes = Buffer.from(zipSync({ a: strToU8('The doors of level 2') }, { level: 0 }))
    const at = bytes.indexOf('doors')
    bytes.write('Doors', at)
    expect(await codeOf(bytes)).toBe('damaged')
  })

  test('a password', async () => {
    const bytes = Buffer.from(zipOf({ a: '1' }))
    const directory = bytes.indexOf(Buffer.from([0x50, 0x4b, 0x01, 0x02]))
    bytes.writeUInt16LE(bytes.readUInt16LE(directory + 8) | 1, directory + 8)
    expect(await codeOf(bytes)).toBe('encrypted')
  })

  test('what was opened is what was packed', async () => {
    const checked = await checkZip('z.zip', zipOf({ b: 'two', a: 'one' }), LIMITS)
    if (!checked.ok) throw new Error(checked.problem.code)
    expect([...checked.value].map(([name, bytes]) => [name, Buffer.from(bytes).toString()])).toEqual([
      ['b', 'two'],
      ['a', 'one'],
    ])
  })
})

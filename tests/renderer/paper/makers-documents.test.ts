// Makers' files as they come: what binds in, and what is refused with a reason. Libraries and programs that wrote them vary.
import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { PDFDocument, PDFName, PDFPageLeaf } from '@cantoo/pdf-lib'
import { beforeAll, describe, expect, test } from 'vitest'
import { attachment, makersPart, printBook, sampleBook } from './books.ts'
import { keep, missingTools, print, run, schedule } from './printed.ts'

const noTools = missingTools('pdftotext', 'pdfinfo', 'pdftoppm', 'qpdf').length > 0

let source: Uint8Array
const qpdf = (...words: string[]): Uint8Array => {
  const from = keep(source)
  execFileSync('qpdf', [...words, from, `${from}.out.pdf`])
  return readFileSync(`${from}.out.pdf`)
}

interface Bound {
  readonly path: string
  readonly pages: number
  readonly problem: string | null
  readonly texts: readonly string[]
}

/** A book that is this one document: two pages stand before it. */
async function bound(bytes: Uint8Array): Promise<Bound> {
  const { bytes: book, written } = await printBook(
    sampleBook({
      front: [],
      chapters: [{ title: 'Makers’ documents', parts: [makersPart('sheet', 'Magnet')] }],
      attachments: [attachment('sheet', 'magnet.pdf')],
    }),
    { copy: 'reading', read: () => Promise.resolve(bytes) },
  )
  const path = keep(book)
  expect(run('qpdf', '--check', path)).toContain('No syntax or stream encoding errors')
  const texts = run('pdftotext', '-layout', path, '-').split('\f').slice(3, -1)
  const [found] = written.attachments
  return { path, pages: found?.pages ?? 0, problem: found?.problem ?? null, texts }
}

const textsOf = (bytes: Uint8Array): readonly string[] =>
  run('pdftotext', '-layout', keep(bytes), '-').split('\f').slice(0, -1)

const picture = (path: string, page: number): Buffer =>
  execFileSync('pdftoppm', ['-r', '50', '-f', String(page), '-l', String(page), path], { maxBuffer: 1 << 26 })

describe.skipIf(noTools)('a maker’s file', () => {
  beforeAll(async () => {
    source = (await print(schedule([60]), { orientation: 'portrait' })).bytes
  })

  // Ways of keeping and locking a file. Source: ISO 32000-1, 7.5.7, 7.6 and annex F; ISO 32000-2, 7.6.4.
  test.each([
    ['plain', []],
    ['with its objects packed', ['--object-streams=generate']],
    ['made for slow lines', ['--linearize', '--object-streams=generate']],
    ['with nothing packed', ['--qdf', '--object-streams=disable']],
    ['locked against changes, RC4 of 40 bits', ['--allow-weak-crypto', '--encrypt', '', 'owner', '40', '--']],
    [
      'locked against changes, RC4 of 128 bits',
      ['--allow-weak-crypto', '--encrypt', '', 'owner', '128', '--use-aes=n', '--'],
    ],
    ['locked against changes, AES of 128 bits', ['--encrypt', '', 'owner', '128', '--use-aes=y', '--']],
    ['locked against changes, AES of 256 bits', ['--encrypt', '', 'owner', '256', '--']],
  ])('%s is bound in, page for page the same', async (_, words) => {
    const { path, pages, problem, texts } = await bound(qpdf(...words))
    expect(problem).toBeNull()
    expect(pages).toBe(3)
    expect(texts.slice(0, 3)).toEqual(textsOf(source))
    const from = keep(source)
    for (const page of [1, 3]) expect(picture(path, page + 3).equals(picture(from, page))).toBe(true)
  })

  test('whose pages take their size, turn and fonts from above is the same too', async () => {
    const document = await PDFDocument.load(source, { updateMetadata: false })
    const tree = document.catalog.Pages()
    for (const { node } of document.getPages())
      for (const name of PDFPageLeaf.InheritableEntries) {
        const key = PDFName.of(name)
        const value = node.get(key)
        if (value !== undefined) tree.set(key, value)
        node.delete(key)
      }
    tree.set(PDFName.of('Rotate'), document.context.obj(90))
    const inherited = await document.save()
    const { path, texts } = await bound(inherited)
    expect(texts.slice(0, 3)).toEqual(textsOf(inherited))
    expect(run('pdfinfo', '-f', '4', '-l', '4', path)).toMatch(/Page +4 rot: +90/)
    expect(picture(path, 4).equals(picture(keep(inherited), 1))).toBe(true)
  })

  test('that has only lost its table of places is whole, and bound in', async () => {
    const { problem, texts } = await bound(source.subarray(0, source.length - 2000))
    expect(problem).toBeNull()
    expect(texts.slice(0, 3)).toEqual(textsOf(source))
  })

  test('twice at two places is twice there', async () => {
    const parts = [makersPart('sheet', 'Magnet'), makersPart('sheet', 'Magnet again')]
    const { bytes, written } = await printBook(
      sampleBook({
        front: [],
        chapters: [{ title: 'Makers’ documents', parts }],
        attachments: [attachment('sheet', 'magnet.pdf')],
      }),
      { copy: 'reading', read: () => Promise.resolve(source) },
    )
    expect(written.pages).toBe(2 + 2 * 4)
    expect(run('qpdf', '--check', keep(bytes))).toContain('No syntax')
  })

  /** The first stretch of this text turned into another of the same length. */
  const spoiled = (bytes: Uint8Array, from: string, to: string): Uint8Array => {
    const copy = Buffer.from(bytes)
    const at = copy.indexOf(from)
    if (at === -1) throw new Error(`${from} is not in the file`)
    copy.write(to, at, 'latin1')
    return copy
  }

  test.each([
    ['cut in the middle', () => source.subarray(0, source.length / 2), 'the file is damaged or cut short'],
    [
      'that has lost a page',
      () => spoiled(source, '/Count 3', '/Count 4'),
      'the file is damaged or cut short',
    ],
    [
      'whose page cannot be unpacked',
      () => spoiled(source, 'stream\nx', 'stream\n!'),
      'the file is damaged or cut short',
    ],
    ['of another kind', () => Buffer.from('<html>not found</html>'), 'the file is not a PDF'],
    ['of nothing', () => new Uint8Array(0), 'the file is not a PDF'],
    [
      'locked with a password',
      () => qpdf('--encrypt', 'user', 'owner', '256', '--'),
      'the file is locked with a password',
    ],
  ])('%s is not bound in, and its page says so', async (_, make, problem) => {
    const { path, ...found } = await bound(make())
    expect(found).toMatchObject({ pages: 0, problem, texts: [] })
    expect(run('pdftotext', path, '-').replace(/\s+/g, ' ')).toContain(
      `This document is not bound in: ${problem}.`,
    )
  })
})

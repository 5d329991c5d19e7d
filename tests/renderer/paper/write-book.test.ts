// The binder on paper, read back. With LINTELBOOK_LOOK set to a folder, both copies are left there.
import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { Writable } from 'node:stream'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Block } from '../../../core/documents/index.ts'
import { roman } from '../../../renderer/paper/write-book.ts'
import { testWith } from '../../tools/skipping.ts'
import { documentPart, facts, openingPart, printBook, sampleBook, sampleFiles } from './books.ts'
import { lacksPreflight, preflight } from './preflight.ts'
import { keep, missingTools, print, run } from './printed.ts'
import { dictionary, linksOf, list, readBack, type FileReadBack, type Outline } from './read-back.ts'

const noTools = missingTools('pdftotext', 'pdfinfo', 'pdffonts', 'pdfimages', 'pdftoppm', 'qpdf').length > 0

type Copy = 'archive' | 'reading'

interface Printed {
  readonly path: string
  readonly bytes: Uint8Array
  readonly written: Awaited<ReturnType<typeof printBook>>['written']
  readonly pages: readonly string[]
  readonly file: FileReadBack
}

let files: ReadonlyMap<string, Uint8Array>
const read = (key: string): Promise<Uint8Array | null> => Promise.resolve(files.get(key) ?? null)

async function printed(book = sampleBook(), options: Parameters<typeof printBook>[1] = {}): Promise<Printed> {
  const { bytes, written } = await printBook(book, { read, ...options })
  const path = keep(bytes)
  const pages = run('pdftotext', '-layout', path, '-').split('\f').slice(0, -1)
  return { path, bytes, written, pages, file: readBack(path) }
}

const plain = (text = ''): string => text.replace(/\s+/g, ' ')

describe.skipIf(noTools)('a binder', () => {
  const copies = {} as Record<Copy, Printed>
  beforeAll(async () => {
    files = await sampleFiles()
    for (const copy of ['archive', 'reading'] as const) {
      copies[copy] = await printed(sampleBook(), { copy })
      const look = process.env['LINTELBOOK_LOOK']
      if (look !== undefined) writeFileSync(join(look, `binder-${copy}.pdf`), copies[copy].bytes)
    }
  })

  describe.each(['archive', 'reading'] as const)('%s copy', (copy) => {
    test('is clean, with every font inside', () => {
      const { path } = copies[copy]
      expect(run('qpdf', '--check', path)).toContain('No syntax or stream encoding errors')
      const fonts = run('pdffonts', path).trim().split('\n').slice(2)
      expect(fonts.length).toBeGreaterThanOrEqual(5)
      for (const font of fonts) expect(font).toMatch(/ yes yes yes +\d+ +\d+$/)
    })

    test('counts its front i, ii, iii and the rest 1, 2, 3, in labels and at the foot', () => {
      const { file, written, pages } = copies[copy]
      expect(file.labels.map(({ index, label }) => [index, label['/S']])).toEqual([
        [0, '/r'],
        [written.frontPages, '/D'],
      ])
      expect(pages).toHaveLength(written.pages)
      expect(file.pages).toHaveLength(written.pages)
      const body = written.pages - written.frontPages
      expect(plain(pages[0])).not.toContain('page i')
      pages
        .slice(1, written.frontPages)
        .forEach((page, at) => expect(plain(page)).toMatch(new RegExp(`page ${roman(at + 2)} $`)))
      const own = pages.slice(written.frontPages).flatMap((page, at) => {
        const found = /page (\d+) of (\d+) $/.exec(plain(page))
        // Bound-in pages keep the foot they came with.
        return found?.[2] === String(body) ? [[Number(found[1]), at + 1]] : []
      })
      expect(own).toHaveLength(copy === 'archive' ? body : body - 4)
      for (const [said, counted] of own) expect(said).toBe(counted)
    })

    test('its contents lead to the pages they name, and those lead back to their line', () => {
      const { file, written, pages } = copies[copy]
      const contents = written.frontPages
      const lines = [...(pages[contents - 1] ?? '').matchAll(/^ *(\S.*?) +([ivx]+|\d+) *$/gm)]
        .map((found) => ({ text: found[1], page: found[2] ?? '' }))
        .filter(({ text, page }) => text !== undefined && !text.startsWith('Harrow') && page !== '')
      const links = linksOf(file, contents).toSorted((one, other) => other.top - one.top)
      expect(lines.map(({ text }) => text)).toEqual([
        'How to read this binder',
        'Opening schedule',
        'Opening pages',
        'Opening 118',
        'Opening 10A',
        'Opening 2',
        'Makers’ documents',
        'Surface magnet',
        'Sensor',
        'Strike',
        'Power supply',
        'Acceptance',
        'Index',
      ])
      expect(links).toHaveLength(lines.length)
      lines.forEach(({ text, page }, at) => {
        const target = links[at]?.page ?? 0
        expect(page).toBe(target <= written.frontPages ? roman(target) : String(target - written.frontPages))
        expect(plain(pages[target - 1])).toContain(text)
        const back = linksOf(file, target).filter((link) => link.page === contents)
        expect(back).toHaveLength(1)
      })
    })

    test('its bookmarks are nested and lead where they say', () => {
      const { file, pages } = copies[copy]
      const titles = (items: readonly Outline[]): unknown =>
        items.map(({ title, kids }) => (kids.length === 0 ? title : [title, titles(kids)]))
      expect(titles(file.outlines)).toEqual([
        'Contents',
        'Closeout binder',
        'How to read this binder',
        ['Opening schedule', [['Main building', ['Level 1', 'Level 2']]]],
        ['Opening pages', ['Opening 118', 'Opening 10A', 'Opening 2']],
        ['Makers’ documents', ['Surface magnet', 'Sensor', 'Strike', 'Power supply']],
        'Acceptance',
        ['Index', ['By mark', 'By room', 'By serial']],
      ])
      const walk = (items: readonly Outline[]): void => {
        for (const { title, destpageposfrom1: page, kids } of items) {
          expect(page).not.toBeNull()
          if (title !== 'Main building') expect(plain(pages[(page ?? 0) - 1])).toContain(title)
          walk(kids)
        }
      }
      walk(file.outlines)
    })

    test('its index leads to openings by mark in people’s order, room and serial', () => {
      const { file, pages, written } = copies[copy]
      const last = pages.at(-1) ?? ''
      expect(plain(last)).toMatch(/By mark 2 \d+ 10A \d+ 118 \d+ By room Room 2 .* By serial S-74 /)
      const links = linksOf(file, written.pages)
        .filter(({ page }) => page > written.frontPages)
        .map(({ page }) => page)
      expect(links).toHaveLength(9)
      for (const [, mark, number] of plain(last).matchAll(/(?<=\s|^)(2|10A|118) (\d+)/g)) {
        const page = plain(pages[written.frontPages + Number(number) - 1])
        expect(page).toContain(`Opening ${mark}`)
      }
    })

    test('runs nothing by itself', () => {
      const { objects } = copies[copy].file
      for (const object of objects) {
        expect(object['/S']).not.toBe('/JavaScript')
        for (const key of ['/JS', '/AA', '/OpenAction', '/Launch']) expect(object).not.toHaveProperty([key])
      }
    })
  })

  // ISO 19005-3: 6.2.3 output intent, 6.6.2 metadata, 6.8 embedded files with their relationship, 6.2.11.4 fonts inside.
  test('the archive copy has what PDF/A-3b asks for, as far as its structure shows', () => {
    const { file, path } = copies.archive
    const { catalog, at } = file
    const [intent] = list(at(catalog['/OutputIntents']))
    expect(dictionary(at(intent))['/S']).toBe('/GTS_PDFA1')
    expect(dictionary(at(dictionary(at(intent))['/DestOutputProfile']))['/N']).toBe(3)
    const xmp = run('pdfinfo', '-meta', path)
    expect(xmp).toContain('<pdfaid:part>3</pdfaid:part>')
    expect(xmp).toContain('<pdfaid:conformance>B</pdfaid:conformance>')
    const specs = list(at(catalog['/AF'])).map((each) => dictionary(at(each)))
    expect(specs.map((spec) => [spec['/UF'], spec['/AFRelationship']])).toEqual([
      ['u:Magnet & plate.pdf', '/Supplement'],
      ['u:sensor.pdf', '/Supplement'],
      ['u:strike.pdf', '/Supplement'],
      ['u:supply.pdf', '/Supplement'],
      ['u:job.json', '/Data'],
      ['u:Übergabe.xlsx', '/Alternative'],
    ])
    const types = specs.map((spec) => {
      const stream = dictionary(at(dictionary(at(spec['/EF']))['/F']))
      expect(dictionary(at(stream['/Params']))['/ModDate']).toBe('u:D:20260105080000Z')
      return stream['/Subtype']
    })
    expect(types.slice(0, 5)).toEqual([...Array<string>(4).fill('/application/pdf'), '/application/json'])
    const descriptors = file.objects.filter((object) => object['/Type'] === '/FontDescriptor')
    expect(descriptors.length).toBeGreaterThanOrEqual(5)
    for (const descriptor of descriptors) expect(descriptor).toHaveProperty(['/FontFile2'])
    // Links must be printed. ISO 19005-3, 6.3.2.
    for (const object of file.objects) if (object['/Type'] === '/Annot') expect(object['/F']).toBe(4)
  })

  test('the archive copy gives its files back whole', () => {
    const { path } = copies.archive
    const listed = run('qpdf', '--list-attachments', path)
    expect(listed.trim().split('\n')).toHaveLength(6)
    for (const [key, name] of [
      ['plain', 'Magnet & plate.pdf'],
      ['cut', 'strike.pdf'],
      ['twin', 'job.json'],
      ['workbook', 'Übergabe.xlsx'],
    ] as const) {
      const out = `${path}.${key}`
      writeFileSync(out, '')
      run('bash', '-c', 'qpdf "$1" "--show-attachment=$2" > "$3"', 'bash', path, name, out)
      expect(Buffer.compare(readFileSync(out), Buffer.from(files.get(key) ?? []))).toBe(0)
    }
  })

  test('the reading copy claims nothing, and carries no files', () => {
    const { file, path } = copies.reading
    expect(run('pdfinfo', '-meta', path)).not.toContain('pdfaid')
    for (const key of ['/OutputIntents', '/AF']) expect(file.catalog).not.toHaveProperty([key])
  })

  test('the reading copy has makers’ documents at their place, decrypted, and says why one is not there', () => {
    const { pages, written, file } = copies.reading
    const place = (title: string): number =>
      pages.findIndex((page) => plain(page).includes(`Makers’ documents ${title}`))
    const magnet = place('Surface magnet')
    expect(plain(pages[magnet])).toContain(
      `Its 3 pages follow, as pages ${magnet - written.frontPages + 2} to ${magnet - written.frontPages + 4}.`,
    )
    expect(pages[magnet + 1]).toContain('1001')
    expect(plain(pages[magnet + 3])).toContain('page 3 of 3')
    const sensor = place('Sensor')
    expect(sensor).toBe(magnet + 4)
    expect(plain(pages[sensor])).toContain(
      `Its one page follows, as page ${sensor - written.frontPages + 2}.`,
    )
    expect(plain(pages[sensor + 1])).toContain('Records, from corridor 110')
    expect(file.pages[sensor + 1]?.['/MediaBox']).toEqual([0, 0, 792, 612])
    expect(plain(pages[place('Strike')])).toContain('not bound in: the file is damaged or cut short.')
    expect(plain(pages[place('Power supply')])).toContain('not bound in: the file is locked with a password.')
    expect(written.attachments).toEqual([
      { key: 'plain', pages: 3, problem: null },
      { key: 'locked', pages: 1, problem: null },
      { key: 'cut', pages: 0, problem: 'the file is damaged or cut short' },
      { key: 'secret', pages: 0, problem: 'the file is locked with a password' },
    ])
  })

  test('of a maker’s links only those to the web come along', () => {
    const { file, pages } = copies.reading
    const magnet = pages.findIndex((page) => plain(page).includes('Its 3 pages follow'))
    const kept = list(file.at(file.pages[magnet + 1]?.['/Annots'] ?? [])).map((each) =>
      dictionary(file.at(each)),
    )
    expect(kept.map((each) => dictionary(file.at(each['/A']))['/S'])).toEqual(['/URI'])
  })

  test('shows photographs, and says which is not there', () => {
    const { path, written, pages } = copies.archive
    const images = run('pdfimages', '-list', path).trim().split('\n').slice(2)
    expect(images.filter((line) => line.includes('jpeg'))).toHaveLength(2)
    expect(images.filter((line) => line.includes('smask'))).toHaveLength(2)
    expect(written.problems).toEqual([
      'The photograph "The door as proved, gone" is not shown: there is no file of that name.',
    ])
    expect(plain(pages.join(' '))).toContain('The photograph "The door as proved, gone" is not shown')
  })

  testWith(lacksPreflight(), 'Preflight finds nothing in a PDF/A-1b twin', async () => {
    // Pictures with opacity are not allowed in part 1, and are in part 3.
    const withoutClear = (key: string) => read(key === 'clear' || key === 'indexed' ? 'none' : key)
    const { path, written } = await printed(sampleBook(), { copy: 'archive twin', read: withoutClear })
    expect(written.pages).toBe(copies.archive.written.pages)
    expect(preflight(path)).toEqual(['VALID'])
  })

  test('the same book and date give the same bytes', async () => {
    const hash = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')
    for (const copy of ['archive', 'reading'] as const) {
      const again = await printBook(sampleBook(), { copy, read })
      expect(hash(again.bytes)).toBe(hash(copies[copy].bytes))
    }
  })

  test('a title with signs of its own stays readable in the metadata', async () => {
    const { path } = await printed(sampleBook({ facts: { ...facts, jobName: 'A & B <north> "x" é' } }))
    expect(run('pdfinfo', '-meta', path)).toContain('A &amp; B &lt;north&gt; "x" é')
    expect(run('pdfinfo', path)).toContain('A & B <north> "x" é')
  })

  test('characters that no face has are reported, not left to break the archive', async () => {
    const part = documentPart('Odd', [{ form: 'words', title: null, paragraphs: ['→ Ω ⌀ 中'], cautions: [] }])
    const { written, pages } = await printed(sampleBook({ front: [part] }))
    expect(written.missingCharacters.map(({ codePoint }) => codePoint)).toEqual(['U+4E2D'])
    expect(plain(pages[1])).toMatch(/→ ?Ω ?⌀ ?\?/)
  })

  test.each([
    ['archive', 'is not inside this file: the file is not there.'],
    ['reading', 'is not bound in: the file is not there.'],
  ] as const)('%s copy: an attachment that is not there is said', async (copy, words) => {
    const gone = (key: string) => (key === 'plain' ? Promise.resolve(null) : read(key))
    const { written, pages } = await printed(sampleBook(), { copy, read: gone })
    expect(written.attachments[0]).toEqual({ key: 'plain', pages: 0, problem: 'the file is not there' })
    expect(plain(pages.join(' '))).toContain(`This document, Magnet & plate.pdf, ${words}`)
  })

  test('a long index and long contents run over pages, under their headings', async () => {
    const parts = Array.from({ length: 120 }, (_, at) =>
      documentPart(
        `Part ${at + 1}`,
        [{ form: 'words', title: `Part ${at + 1}`, paragraphs: [], cautions: [] }],
        {
          index: Array.from({ length: 5 }, (__, nth) => ({ list: 'mark', text: `${at + 1}-${nth + 1}` })),
        },
      ),
    )
    const { written, pages, file } = await printed(
      sampleBook({ front: [], chapters: [{ title: 'Parts', parts }], attachments: [] }),
    )
    expect(written.frontPages).toBe(4)
    const indexPages = pages.slice(written.frontPages + 120)
    expect(indexPages.length).toBeGreaterThan(2)
    for (const page of indexPages.slice(1)) expect(plain(page)).toContain('By mark, continued')
    const lines = indexPages.flatMap((_, at) => linksOf(file, written.frontPages + 121 + at).slice(0, -1))
    expect(lines).toHaveLength(600)
    expect(linksOf(file, 2).concat(linksOf(file, 3), linksOf(file, 4))).toHaveLength(122)
  })

  test('a book of nothing is a cover and empty contents', async () => {
    const { written, pages, path } = await printed(sampleBook({ front: [], chapters: [], attachments: [] }))
    expect(written).toMatchObject({ pages: 2, frontPages: 2 })
    expect(pages[1]).toContain('Contents')
    expect(run('qpdf', '--check', path)).toContain('No syntax')
  })
})

describe('roman figures', () => {
  test.each([
    [1, 'i'],
    [4, 'iv'],
    [9, 'ix'],
    [14, 'xiv'],
    [49, 'xlix'],
    [90, 'xc'],
    [388, 'ccclxxxviii'],
    [1494, 'mcdxciv'],
  ])('%d is %s', (number, text) => expect(roman(number)).toBe(text))
})

const bar: Block = {
  form: 'figure',
  title: 'Check this page before drilling',
  figure: { kind: 'measuring bar', input: { lengthMicrometres: 100_000, lengthWords: '100 mm' } },
  size: 'fit',
  trueSize: true,
  textAlternative: 'A bar to measure.',
  pageCaution: 'Do not drill until the bar measures 100 mm.',
}

describe.skipIf(noTools)('figures', () => {
  // 1 inch is 72 points and 25.4 mm. Sources: ISO 32000-1, 8.3.2.3; international yard and pound agreement of 1959.
  test.each(['letter', 'a4', 'tabloid'] as const)(
    'a bar of 100 mm is 100 mm long on %s',
    async (pageSize) => {
      const { bytes } = await print({ facts, blocks: [bar] }, { pageSize, orientation: 'portrait' })
      const content = run('qpdf', '--qdf', '--object-streams=disable', keep(bytes), '-')
      const lengths = [...content.matchAll(/^([\d.]+) ([\d.]+) m ([\d.]+) \2 l S$/gm)].map(
        ([, from, , to]) => ((Number(to) - Number(from)) / 72) * 25.4,
      )
      expect(lengths.some((length) => Math.abs(length - 100) < 0.01)).toBe(true)
      // Nothing on the page scales what stands on it.
      expect(content).not.toMatch(/UserUnit (?!1\b)/)
      expect([...content.matchAll(/^(\S+) \S+ \S+ (\S+) \S+ \S+ cm$/gm)].map(([, a, d]) => [a, d])).toEqual([
        ['1', '-1'],
      ])
    },
  )

  test('its page carries the caution in place of the note, other pages do not', async () => {
    const long: Block = {
      form: 'words',
      title: null,
      paragraphs: Array<string>(70).fill('Some words.'),
      cautions: [],
    }
    const { bytes } = await print({ facts, blocks: [bar, long] }, { orientation: 'portrait' })
    const pages = run('pdftotext', '-layout', keep(bytes), '-').split('\f').slice(0, -1).map(plain)
    expect(pages[0]).toMatch(/Do not drill until the bar measures 100 mm\. page 1 of/)
    expect(pages[1]).toMatch(/the authority having jurisdiction decide\. page 2 of/)
  })

  test('true to size where the page is too small it is not shown, and words say so', async () => {
    const metre: Block = {
      ...bar,
      figure: { kind: 'measuring bar', input: { lengthMicrometres: 1_000_000, lengthWords: '1 m' } },
    }
    const { bytes, written } = await print({ facts, blocks: [metre] })
    const sentence =
      'Check this page before drilling has no room on this page at full size. Print it on a larger sheet.'
    expect(written.problems).toEqual([sentence])
    expect(plain(run('pdftotext', '-layout', keep(bytes), '-'))).toContain(sentence)
    const small = await print({ facts, blocks: [{ ...metre, trueSize: false }] })
    expect(small.written.problems).toEqual([])
    expect(plain(run('pdftotext', '-layout', keep(small.bytes), '-'))).toContain('must measure 1 m')
  })

  test('is read by ear in a short document', async () => {
    const { bytes } = await print({ facts, blocks: [bar] })
    const objects = run('qpdf', '--qdf', '--object-streams=disable', keep(bytes), '-')
    expect(objects).toContain('(A bar to measure. This bar must measure 100 mm.')
  })
})

describe.skipIf(noTools)('a short document with all of it', () => {
  // ISO 14289-1, 7.3: each figure has a text in its place; here also where it stands.
  test('is tagged: figures say what they show, words to sign under are words', async () => {
    const files = await sampleFiles()
    const blocks: Block[] = [
      bar,
      {
        form: 'photographs',
        title: 'Photographs',
        photographs: [
          { key: 'upright', caption: 'Seen from the corridor', textAlternative: 'The door, shut' },
          { key: 'gone', caption: 'The frame', textAlternative: 'The frame' },
        ],
      },
      {
        form: 'signatures',
        title: 'Acceptance',
        paragraphs: ['Seen to work.'],
        lines: [{ role: 'For the owner', name: 'R. Okafor' }],
      },
    ]
    const { bytes, written } = await print(
      { facts, blocks },
      { read: (key) => Promise.resolve(files.get(key) ?? null) },
    )
    const path = keep(bytes)
    expect(written.tagged).toBe(true)
    expect(run('qpdf', '--check', path)).toContain('No syntax or stream encoding errors')
    const objects = run('qpdf', '--qdf', '--object-streams=disable', path, '-')
    expect(objects.match(/\/S \/Figure/g)).toHaveLength(2)
    expect(objects.match(/\/BBox \[/g)).toHaveLength(2)
    expect(objects).toContain('/Alt (The door, shut)')
    const tree = run('pdfinfo', '-struct-text', path)
    for (const words of [
      'Seen from the corridor',
      'Seen to work.',
      'For the owner',
      'R. Okafor',
      'Signature',
    ])
      expect(tree).toContain(words)
  })
})

describe('writing a book', () => {
  const many = (count: number) => ({
    *[Symbol.iterator]() {
      for (let at = 1; at <= count; at += 1) yield openingPart(String(at))
    },
  })

  test('tells the chapter and the page, and stops when asked', async () => {
    const stop = new AbortController()
    const heard: string[] = []
    const printing = printBook(
      sampleBook({ chapters: [{ title: 'Openings', parts: many(400) }], attachments: [] }),
      {
        signal: stop.signal,
        onProgress: ({ chapter, chapterNumber, chapters, pagesDone }) => {
          heard.push(`${chapter} ${chapterNumber}/${chapters}`)
          if (pagesDone >= 30) stop.abort(new Error('enough'))
        },
      },
    )
    await expect(printing).rejects.toThrow('enough')
    expect(heard.length).toBeLessThan(12)
    expect(heard.at(-1)).toBe('Openings 1/1')
  })

  test('asks for each part only when its turn comes', async () => {
    let given = 0
    let furthestAhead = 0
    const parts = {
      *[Symbol.iterator]() {
        for (; given < 60; given += 1) yield openingPart(String(given + 1))
      },
    }
    await printBook(sampleBook({ front: [], chapters: [{ title: 'Openings', parts }], attachments: [] }), {
      onProgress: ({ pagesDone }) => (furthestAhead = Math.max(furthestAhead, given - pagesDone)),
    })
    expect(given).toBe(60)
    expect(furthestAhead).toBeLessThanOrEqual(2)
  })

  test('a stream that fails is the caller’s error', async () => {
    const stream = new Writable({ write: (_, __, done) => done(new Error('the disk is full')) })
    const book = sampleBook({ chapters: [{ title: 'Openings', parts: many(60) }], attachments: [] })
    await expect(printBook(book, { stream })).rejects.toThrow('the disk is full')
  })

  test('a part that names an attachment the book does not have is a bug', async () => {
    await expect(printBook(sampleBook({ attachments: [] }))).rejects.toThrow(
      'the book has no attachment plain',
    )
  })
})

import { createHash } from 'node:crypto'
import { Writable } from 'node:stream'
import { beforeAll, describe, expect, test } from 'vitest'
import type { DocumentBlocks } from '../../../core/documents/index.ts'
import { pageSizes, type WrittenDocument } from '../../../renderer/paper/index.ts'
import { columns, keep, marksOf, missingTools, print, run, schedule } from './printed.ts'

const noTools = missingTools('pdftotext', 'pdfinfo', 'pdffonts', 'qpdf').length > 0
const long = schedule([70, 45, 60])
const longNote = 'The frame is grouted, so the raceway comes in from the hinge side. Agree the route first. '

interface Printed {
  readonly path: string
  readonly written: WrittenDocument
  readonly pages: readonly string[]
}

async function printed(
  document: DocumentBlocks,
  options: Parameters<typeof print>[1] = {},
): Promise<Printed> {
  const { bytes, written } = await print(document, options)
  const path = keep(bytes)
  const pages = run('pdftotext', '-layout', path, '-').split('\f').slice(0, -1)
  return { path, written, pages }
}

describe.skipIf(noTools)('a printed schedule', () => {
  let job: Printed
  beforeAll(async () => {
    job = await printed(long)
  })

  test('has every mark, in order', () => {
    const marks = marksOf(long)
    const found = [...job.pages.join('\n').matchAll(/^ *([123]\d{3}A?) /gm)].map((match) => match[1])
    expect(found).toEqual(marks)
  })

  test('has its headings and its group above the rows of every page', () => {
    const withRows = job.pages.filter((page) => /^ *[123]\d{3}A? /m.test(page))
    expect(withRows.length).toBeGreaterThan(3)
    for (const page of withRows) {
      const firstRow = page.search(/^ *[123]\d{3}A? /m)
      const above = page.slice(0, firstRow)
      for (const { heading } of columns) for (const word of heading.split(' ')) expect(above).toContain(word)
      expect(above).toMatch(/Level \d(, continued| )/)
    }
  })

  test('never leaves a group heading alone at a foot', () => {
    for (const page of job.pages) expect(page).not.toMatch(/Level \d[^\n]*\n+[^\n]*page \d+ of/)
  })

  test('counts its pages', () => {
    expect(job.written.pages).toBe(job.pages.length)
    job.pages.forEach((page, index) => expect(page).toContain(`page ${index + 1} of ${job.pages.length}`))
    expect(run('pdfinfo', job.path)).toMatch(new RegExp(`Pages: +${job.pages.length}\n`))
  })

  test('says on every page whose it is, which issue, and who decides', () => {
    for (const page of job.pages) {
      expect(page).toMatch(/Harrow Street Clinic +· +2231 +· +Issue 2 +· +3 March 2026/)
      expect(page).toContain('the authority having jurisdiction decide')
    }
  })

  test('embeds every font, with the text that it stands for', () => {
    const fonts = run('pdffonts', job.path).trim().split('\n').slice(2)
    expect(fonts.length).toBeGreaterThanOrEqual(4)
    for (const font of fonts) expect(font).toMatch(/Identity-H +yes yes yes/)
  })

  test('is clean to qpdf, tagged and untagged', async () => {
    expect(job.written.tagged).toBe(true)
    const untagged = await printed(long, { taggedUpToPages: 0 })
    expect(untagged.written.tagged).toBe(false)
    for (const { path } of [job, untagged])
      expect(run('qpdf', '--check', path)).toContain('No syntax or stream encoding errors')
    expect(untagged.pages.map((page) => page.replace(/\s+/g, ' '))).toEqual(
      job.pages.map((page) => page.replace(/\s+/g, ' ')),
    )
  })

  // ISO 14289-1, 7.5: tables have header cells with a scope; each row as many columns as the others.
  test('its table can be read by ear', async () => {
    // Small: pdfinfo looks through every page again for each cell.
    const small = schedule([3, 2])
    const { path } = await printed(small)
    const tree = run('pdfinfo', '-struct-text', path)
    expect(tree).toMatch(/^Document\n {2}H1/)
    expect(tree.match(/\/Scope \/Column/g)?.length).toBe(columns.length + 2)
    expect(tree.match(/\/Scope \/Row/g)?.length).toBe(5)
    expect(tree.match(/^ +TD/gm)?.length).toBe(5 * (columns.length - 1))
    expect(tree).toContain('"Records, from corridor 110"')
  })

  // ISO 19005-3, 6.2.3, 6.6.2 and 6.7: an output intent, a metadata packet, and for level A marks and a structure tree.
  test.each([
    [99, 'A', true],
    [0, 'B', false],
  ])(
    'tagged up to %d pages it claims PDF/A-3%s and has what that needs',
    async (taggedUpToPages, level, tagged) => {
      const { path } = await printed(schedule([9]), { taggedUpToPages })
      const xmp = run('pdfinfo', '-meta', path)
      expect(xmp).toContain(`<pdfaid:conformance>${level}</pdfaid:conformance>`)
      expect(xmp.includes('<pdfuaid:part>1</pdfuaid:part>')).toBe(tagged)
      const plain = run('qpdf', '--json', '--json-key=qpdf', path)
      for (const key of ['/OutputIntents', '/Metadata', '/Lang']) expect(plain).toContain(`"${key}"`)
      for (const key of ['/MarkInfo', '/StructTreeRoot']) expect(plain.includes(`"${key}"`)).toBe(tagged)
      expect(plain).not.toContain('/JavaScript')
    },
  )

  test('has a bookmark for each group under its building, and page labels', () => {
    const json = JSON.parse(
      run('qpdf', '--json', '--json-key=outlines', '--json-key=pagelabels', job.path),
    ) as {
      outlines: { title: string; kids: { title: string }[] }[]
      pagelabels: unknown[]
    }
    expect(json.outlines.map((each) => [each.title, each.kids.map((kid) => kid.title)])).toEqual([
      ['Main building', ['Level 1', 'Level 2']],
      ['Annexe', ['Level 3']],
    ])
    expect(json.pagelabels).toHaveLength(1)
  })

  test('the same document and date give the same bytes', async () => {
    const hash = async (taggedUpToPages: number): Promise<string> =>
      createHash('sha256')
        .update((await print(long, { taggedUpToPages })).bytes)
        .digest('hex')
    for (const pages of [0, 99]) expect(await hash(pages)).toBe(await hash(pages))
  })
})

describe.skipIf(noTools)('what people write', () => {
  test('a title with signs of its own keeps its facts readable', async () => {
    const jobName = 'A & B <north> "x" \u0007]]> é 中'
    const { path } = await printed(schedule([3], { jobName }))
    const xmp = run('pdfinfo', '-meta', path)
    expect(xmp).toContain('A &amp; B &lt;north&gt;')
    // Every & starts an entity and every < a tag: it parses.
    expect(xmp.replace(/&(amp|lt|gt);/g, '').includes('&')).toBe(false)
    const open: string[] = []
    for (const [, end, name, alone] of xmp.matchAll(/<(\/?)([a-zA-Z]+:[a-zA-Z]+)[^<>]*?(\/?)>/g)) {
      if (end === '/') expect(open.pop()).toBe(name)
      else if (alone !== '/') open.push(name as string)
    }
    expect(open).toEqual([])
    expect(xmp).toContain('<pdfaid:part>3</pdfaid:part>')
    expect(run('pdfinfo', path)).toContain('Opening schedule, A & B <north> "x" ]]> é 中')
  })

  test('odd characters are there, and those no font has are reported and show as ?', async () => {
    const odd = '→ Ω ½ ⅛ ☐ № é ü ✓ ≥ ⌀'
    const { written, pages } = await printed(schedule([2], { notes: () => `${odd} 中 🔒 end` }))
    const text = pages.join(' ').replace(/\s+/g, ' ')
    for (const character of odd.split(' ')) expect(text).toContain(character)
    expect(text).toMatch(/\? +\? +end/)
    expect(written.missingCharacters.map((each) => each.codePoint)).toEqual(['U+4E2D', 'U+1F512'])
  })

  test('a note longer than three lines is in the row as far as it goes, and in full below', async () => {
    const notes = (at: number): string => (at === 4 ? longNote.repeat(6).trim() : '')
    const { written, pages } = await printed(schedule([12], { notes }))
    expect(written.notesInFull).toBe(1)
    const text = pages.join(' ').replace(/\s+/g, ' ')
    expect(text).toContain('… note 1')
    expect(text.slice(text.indexOf('Notes in full')).replace(/\s+/g, ' ')).toContain('1 1005, Notes')
    expect(text.match(/Agree the route first\./g)?.length).toBeGreaterThanOrEqual(6)
  })

  test('a note over several pages loses nothing', async () => {
    const words = Array.from({ length: 3000 }, (_, at) => `w${at}`)
    const { pages, path } = await printed(schedule([2], { notes: (at) => (at === 0 ? words.join(' ') : '') }))
    const full = pages.join(' ').slice(pages.join(' ').indexOf('Notes in full'))
    const found = [...full.matchAll(/\bw(\d+)\b/g)].map((match) => Number(match[1]))
    expect(found).toEqual(words.map((_, at) => at))
    expect(run('qpdf', '--check', path)).toContain('No syntax')
  })

  test('an empty job says what to do', async () => {
    const { pages } = await printed(schedule([]))
    expect(pages).toHaveLength(1)
    expect(pages[0]).toContain('No openings yet.')
    expect(pages[0]).toContain('page 1 of 1')
  })

  test('columns that do not fit are named on the page and in the result', async () => {
    const many = Array.from({ length: 9 }, (_, at) => ({
      key: `remark${at}`,
      heading: `Remark-${at}`,
      unit: null,
      align: 'left' as const,
      widthWeight: 0,
    }))
    const document = schedule([3], { columns: [...columns, ...many] })
    const { written, pages } = await printed(document, { pageSize: 'a4', orientation: 'portrait' })
    expect(written.leftOutColumns.length).toBeGreaterThan(0)
    expect(pages[0]?.replace(/\s+/g, ' ')).toContain(
      `Left out to fit this page: ${written.leftOutColumns.join(', ')}.`,
    )
  })
})

// ANSI/ASME Y14.1 sizes A and B; ISO 216 A4 and A3, in points.
describe.skipIf(noTools).each([
  ['letter', 792, 612],
  ['tabloid', 1224, 792],
  ['a4', 841.89, 595.28],
  ['a3', 1190.55, 841.89],
] as const)('on %s', (pageSize, width, height) => {
  test.each(['landscape', 'portrait'] as const)(
    '%s: nothing stands outside the margins',
    async (orientation) => {
      const notes = (at: number): string =>
        at % 7 === 0 ? longNote.repeat(1 + (at % 5)) : 'UNBREAKABLE'.repeat(at % 9)
      const { path } = await printed(
        schedule([60, 30], { notes, jobName: 'A long name of a job '.repeat(12) }),
        {
          pageSize,
          orientation,
        },
      )
      const [wide, high] = orientation === 'landscape' ? [width, height] : [height, width]
      const boxes = run('pdftotext', '-bbox', path, '-')
      for (const [, pageWidth, pageHeight] of boxes.matchAll(/<page width="([\d.]+)" height="([\d.]+)"/g)) {
        expect(Number(pageWidth)).toBeCloseTo(wide, 1)
        expect(Number(pageHeight)).toBeCloseTo(high, 1)
      }
      let words = 0
      for (const [, left, top, right, bottom, word] of boxes.matchAll(
        /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">([^<]*)/g,
      )) {
        words += 1
        const inside =
          Number(left) >= 35 && Number(right) <= wide - 35 && Number(top) >= 30 && Number(bottom) <= high - 30
        if (!inside)
          expect.fail(`${word} stands at ${left} ${top} to ${right} ${bottom} on ${wide} x ${high}`)
      }
      expect(words).toBeGreaterThan(500)
    },
  )
})

describe('writing', () => {
  test('2,000 openings take their pages quickly', async () => {
    const document = schedule(Array.from({ length: 20 }, () => 100))
    const start = performance.now()
    const { written, bytes } = await print(document)
    const seconds = (performance.now() - start) / 1000
    const rate = written.pages / seconds
    console.log(
      `2,000 openings, ${columns.length} columns: ${written.pages} pages in ${seconds.toFixed(2)} s, ${rate.toFixed(0)} pages a second, ${(bytes.length / 1e6).toFixed(2)} MB`,
    )
    expect(written.tagged).toBe(false)
    // Measured at 160 to 220 on a quiet machine; this floor only catches a collapse.
    expect(rate).toBeGreaterThan(20)
  })

  test('tells how far it is, and stops when asked', async () => {
    const document = schedule(Array.from({ length: 20 }, () => 100))
    const heard: number[] = []
    const stop = new AbortController()
    const printing = print(document, {
      signal: stop.signal,
      onProgress: (done) => {
        heard.push(done)
        if (done >= 16) stop.abort(new Error('enough'))
      },
    })
    await expect(printing).rejects.toThrow('enough')
    expect(heard).toEqual([0, 8, 16])
  })

  test('a stream that fails is the caller’s error', async () => {
    const stream = new Writable({ write: (_, __, done) => done(new Error('the disk is full')) })
    await expect(print(long, { stream })).rejects.toThrow('the disk is full')
  })

  test('every size can be asked for', () => expect(pageSizes).toEqual(['letter', 'tabloid', 'a4', 'a3']))
})

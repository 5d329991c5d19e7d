// Paper at the size of a large binder: 2,000 pages through the press, beside Chromium printing and LibreOffice converting
// the same schedule as tables. Run with the word `press` this file is the process that is measured.
import { fork } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import type {
  BookBlocks,
  BookPart,
  DocumentBlocks,
  DocumentFacts,
  TableBlock,
} from '../../core/documents/index.ts'
import { pressBook } from '../../electron/press.ts'
import { marksOf, schedule } from '../renderer/paper/printed.ts'
import { startChromium } from '../tools/chromium.ts'
import { lacksBrowser } from '../tools/skipping-reasons.ts'
import { run } from '../tools/tool.ts'
import { tableOf, type BenchLine } from './lines.ts'

/** A level fills a page, here and in the other programs. */
const openingsOnLevel = 30
/** The other programs get fewer pages: what counts is pages a second. */
const besideLevels = 400

const table = (document: DocumentBlocks): TableBlock => {
  const found = document.blocks.find((block) => block.form === 'table')
  if (found?.form !== 'table') throw new Error('a schedule has a table')
  return found
}

function levelDocument(level: number): DocumentBlocks {
  const document = schedule([openingsOnLevel])
  const { columns, groups, ...rest } = table(document)
  const group = groups[0]
  if (group === undefined) throw new Error('a level has openings')
  // Marks of their own, so that no two levels are set from the same words.
  const rows = group.rows.map((row, at) => ({ ...row, cells: [`${level}.${at + 1}`, ...row.cells.slice(1)] }))
  const title = `Level ${level}`
  return {
    facts: { ...document.facts, title },
    blocks: [
      { form: 'title', title, lines: ['Harrow Street Clinic'], facts: [] },
      { ...rest, columns, groups: [{ ...group, title, rows }] },
    ],
  }
}

function* levels(count: number): Iterable<BookPart> {
  for (let level = 1; level <= count; level += 1) {
    const document = levelDocument(level)
    const index = marksOf(document).map((text) => ({ list: 'mark', text }))
    yield {
      form: 'document',
      entry: `Level ${level}`,
      index: index.slice(0, 4),
      orientation: 'landscape',
      document,
    }
  }
}

function bigBook(pages: number): BookBlocks {
  const { facts } = schedule([1])
  const cover = { title: 'Closeout binder', lines: [facts.jobName], facts: [], cautions: [] }
  const perChapter = 100
  const chapters = Array.from({ length: Math.ceil(pages / perChapter) }, (_, chapter) => ({
    title: `Building ${chapter + 1}`,
    parts: levels(Math.min(perChapter, pages - chapter * perChapter)),
  }))
  const bookFacts: DocumentFacts = { ...facts, title: 'Closeout binder' }
  const indexLists = [{ key: 'mark', title: 'By mark' }]
  return { facts: bookFacts, cover, front: [], chapters, indexLists, attachments: [] }
}

interface Measured {
  readonly pages: number
  readonly seconds: number
  readonly peakMegabytes: number
  readonly longestBlockMilliseconds: number
}

const tick = 5

/** The host's part: it starts the press and must stay free meanwhile. */
async function measureHere(pages: number, file: string): Promise<Measured> {
  let [longest, peak, last] = [0, 0, performance.now()]
  const watch = setInterval(() => {
    const now = performance.now()
    longest = Math.max(longest, now - last - tick)
    last = now
    peak = Math.max(peak, process.memoryUsage.rss())
  }, tick)
  const start = performance.now()
  const pressed = await pressBook(bigBook(pages), {
    pageSize: 'letter',
    createdAt: '2026-03-03T09:00:00Z',
    copies: [{ copy: 'archive', path: file }],
  })
  const seconds = (performance.now() - start) / 1000
  clearInterval(watch)
  if (!pressed.ok) throw new Error(pressed.problem.sentence)
  const [made] = pressed.copies
  return {
    pages: made?.pages ?? 0,
    seconds,
    peakMegabytes: peak / 1e6,
    longestBlockMilliseconds: longest,
  }
}

/** In a process of its own, so that its memory is the press and its host and nothing else. */
function measureApart(pages: number, file: string): Promise<Measured> {
  return new Promise((resolve, reject) => {
    const child = fork(import.meta.filename, ['press', String(pages), file])
    child.once('message', (measured) => resolve(measured as Measured))
    child.once('error', reject)
    child.once('exit', (code) => reject(new Error(`the press ended with ${code}`)))
  })
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')

const eachLevel = (): readonly TableBlock[] =>
  Array.from({ length: besideLevels }, (_, at) => table(levelDocument(at + 1)))

/** The same tables for a browser: a heading and a table for each level, headings again on each page. */
function asPage(): string {
  const tables = eachLevel().map(({ columns, groups }) => {
    const head = columns.map(({ heading }) => `<th>${escaped(heading)}</th>`).join('')
    const rows = (groups[0]?.rows ?? []).map(
      ({ cells }) => `<tr>${cells.map((cell) => `<td>${escaped(cell)}</td>`).join('')}</tr>`,
    )
    return `<h2>${groups[0]?.title}</h2><table><thead><tr>${head}</tr></thead>${rows.join('')}</table>`
  })
  return `<!doctype html><meta charset="utf-8"><style>body{font:7.8pt sans-serif}h2{break-before:page}table{border-collapse:collapse}
th,td{border-bottom:.4pt solid #ccc;padding:1.9pt 4pt;text-align:left}tr{break-inside:avoid}</style>${tables.join('')}`
}

/** The same tables as a flat spreadsheet: a sheet for each level, landscape, as wide as a page, headings again on each page. */
function asSpreadsheet(): string {
  const cells = (texts: readonly string[]): string =>
    texts
      .map(
        (text) =>
          `<table:table-cell office:value-type="string"><text:p>${escaped(text)}</text:p></table:table-cell>`,
      )
      .join('')
  const row = (texts: readonly string[]): string => `<table:table-row>${cells(texts)}</table:table-row>`
  const sheets = eachLevel().map(
    ({ columns, groups }) =>
      `<table:table table:name="${groups[0]?.title}" table:style-name="ta"><table:table-header-rows>${row(
        columns.map(({ heading }) => heading),
      )}</table:table-header-rows>${(groups[0]?.rows ?? []).map((each) => row(each.cells)).join('')}</table:table>`,
  )
  return `<?xml version="1.0" encoding="UTF-8"?><office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:automatic-styles><style:page-layout style:name="pm"><style:page-layout-properties fo:page-width="11in" fo:page-height="8.5in" style:print-orientation="landscape" fo:margin="0.5in" style:scale-to-X="1" style:scale-to-Y="0"/></style:page-layout><style:style style:name="ta" style:family="table" style:master-page-name="Default"/></office:automatic-styles><office:master-styles><style:master-page style:name="Default" style:page-layout-name="pm"/></office:master-styles><office:body><office:spreadsheet>${sheets.join('')}</office:spreadsheet></office:body></office:document>`
}

async function pagesIn(file: string): Promise<number> {
  const { output } = await run('pdfinfo', [file])
  return Number(/Pages: +(\d+)/.exec(output)?.[1] ?? 0)
}

const besideLine = (what: string, pages: number, seconds: number, file: string): BenchLine => ({
  what,
  measured: pages / seconds,
  unit: 'pages/s',
  how: `${pages} pages in ${seconds.toFixed(1)} s, ${(statSync(file).size / 1e6).toFixed(1)} MB`,
})

async function inChromium(folder: string): Promise<BenchLine> {
  const what = 'paper: beside, Chromium printing the same tables'
  const lack = lacksBrowser()
  if (lack !== null) return { what, because: lack }
  const source = path.join(folder, 'tables.html')
  const file = path.join(folder, 'chromium.pdf')
  writeFileSync(source, asPage())
  const browser = await startChromium()
  try {
    const page = await browser.context.newPage()
    const start = performance.now()
    await page.goto(pathToFileURL(source).href)
    await page.pdf({ path: file, format: 'Letter', landscape: true })
    const seconds = (performance.now() - start) / 1000
    return besideLine(what, await pagesIn(file), seconds, file)
  } finally {
    await browser.close()
  }
}

const officePlaces = ['/usr/bin/soffice', '/usr/bin/libreoffice']

async function inOffice(folder: string): Promise<BenchLine> {
  const what = 'paper: beside, LibreOffice converting the same tables'
  const program = officePlaces.find((each) => existsSync(each))
  if (program === undefined)
    return { what, because: 'no soffice here: apt-get install -y libreoffice-calc-nogui' }
  const source = path.join(folder, 'tables.fods')
  const file = path.join(folder, 'tables.pdf')
  writeFileSync(source, asSpreadsheet())
  const profile = `-env:UserInstallation=file://${path.join(folder, 'office')}`
  // The first start makes a profile.
  await run(program, [profile, '--headless', '--terminate_after_init'])
  const words = [profile, '--headless', '--convert-to', 'pdf', '--outdir', folder, source]
  const { code, output, seconds } = await run(program, words)
  if (code !== 0 || !existsSync(file))
    return { what, because: `soffice ended with ${code}: ${output.trim().slice(0, 120)}` }
  return besideLine(what, await pagesIn(file), seconds, file)
}

/** Measures and gives the lines. The other programs take about a minute. */
export async function measurePaper(pages = 2000): Promise<readonly BenchLine[]> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-paper-bench-'))
  try {
    const file = path.join(folder, 'binder.pdf')
    const own = await measureApart(pages, file)
    const size = `${own.pages.toLocaleString('en')} pages`
    return [
      {
        what: 'paper: a binder, archive copy',
        measured: own.pages / own.seconds,
        unit: 'pages/s',
        goal: { atLeast: 100 },
        how: `${size} in ${own.seconds.toFixed(1)} s, ${(statSync(file).size / 1e6).toFixed(1)} MB, PDF/A-3b`,
      },
      {
        what: 'paper: memory of host and press together, at most',
        measured: own.peakMegabytes,
        unit: 'MB',
        goal: { atMost: 400 },
        how: 'resident, one process',
      },
      {
        what: 'paper: the host was away for, at most',
        measured: own.longestBlockMilliseconds,
        unit: 'ms',
        goal: { atMost: 100 },
        how: `a timer of ${tick} ms in the host meanwhile`,
      },
      await inChromium(folder),
      await inOffice(folder),
    ]
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** The lines as a table, for whoever wants to print them by themselves. */
export const paperTable = async (): Promise<string> => tableOf(await measurePaper())

const [, , word, pages = '2000', file = ''] = process.argv
if (word === 'press' && process.send !== undefined) process.send(await measureHere(Number(pages), file))

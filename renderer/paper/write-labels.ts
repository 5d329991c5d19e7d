// Labels on their sheets or rolls, true to size: print them without fitting to the page.
import type { Writable } from 'node:stream'
import { finished } from 'node:stream/promises'
import type { DocumentFacts, LabelSheet } from '../../core/documents/index.ts'
import { openFaces, type FontBytes } from './faces.ts'
import { setLabel } from './label-pieces.ts'
import { pointsOf } from './measuring-bar.ts'
import { openPdf } from './pdf-inside.ts'
import { openPen } from './pen.ts'
import { openSetter, type MissingCharacter } from './setting.ts'
import { openSheet } from './sheet.ts'
import { pagesBetweenBreaths } from './write-document.ts'

export interface WriteLabelsOptions {
  readonly fonts: FontBytes
  /** Goes into the file; the same labels and date give the same bytes. */
  readonly createdAt: Date
  readonly stream: Writable
  readonly onProgress?: (pagesDone: number, pages: number) => void
  readonly signal?: AbortSignal
}

export interface WrittenLabels {
  readonly pages: number
  /** Labels of which something was cut, each with its name. */
  readonly warnings: readonly string[]
  readonly missingCharacters: readonly MissingCharacter[]
}

const usualTaggedPages = 40

/** Writes labels as PDF and ends the stream. Throws the signal's reason when aborted, the stream's error when it fails. */
export async function writeLabels(
  sheetOfLabels: LabelSheet,
  options: WriteLabelsOptions,
): Promise<WrittenLabels> {
  const { stock, labels, startAt } = sheetOfLabels
  const perPage = stock.columns * stock.rows
  const skipped = Math.min(Math.max(1, startAt), perPage) - 1
  const pages = Math.max(1, Math.ceil((labels.length + skipped) / perPage))
  const look = { width: pointsOf(stock.pageWidthMicrometres), height: pointsOf(stock.pageHeightMicrometres) }
  const room = {
    width: pointsOf(stock.labelWidthMicrometres),
    height: pointsOf(stock.labelHeightMicrometres),
  }
  const setter = openSetter(openFaces(options.fonts))
  const tagged = pages <= usualTaggedPages
  const inside = openPdf(factsOf(sheetOfLabels), { tagged, createdAt: options.createdAt, claim: 'PDF/A-3' })
  const pen = openPen(inside, setter)
  const sheet = openSheet(inside, pen)
  const ended = finished(options.stream)
  ended.catch(() => undefined)
  inside.pipe(options.stream)
  const warnings: string[] = []
  for (let page = 0; page < pages; page += 1) {
    if (page % pagesBetweenBreaths === 0) {
      options.onProgress?.(page, pages)
      await new Promise((resolve) => setImmediate(resolve))
      options.signal?.throwIfAborted()
      if (options.stream.destroyed) await ended
    }
    inside.addPage(look)
    pen.newPage()
    for (let place = 0; place < perPage; place += 1) {
      const label = labels[page * perPage + place - skipped]
      if (label === undefined) continue
      const left = pointsOf(stock.leftMicrometres + (place % stock.columns) * stock.acrossMicrometres)
      const top = pointsOf(stock.topMicrometres + Math.floor(place / stock.columns) * stock.downMicrometres)
      const set = setLabel(label, room, setter)
      warnings.push(...set.warnings)
      set.paint(sheet, left, top)
    }
    pen.flush()
  }
  inside.end()
  await ended
  options.onProgress?.(pages, pages)
  return { pages, warnings, missingCharacters: [...setter.missing.values()] }
}

const factsOf = ({ title, jobName }: LabelSheet): DocumentFacts => ({
  title,
  jobName,
  jobNumber: null,
  client: null,
  address: null,
  preparedBy: null,
  issueName: null,
  dateText: null,
  pageNote: null,
})

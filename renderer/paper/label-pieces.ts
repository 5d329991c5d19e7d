// One label: its mark large, its lines below, its code at the right. What does not fit is made smaller, then cut with a warning.
import type { Label } from '../../core/documents/index.ts'
import { codeShape } from './code-shape.ts'
import { paintLines, type Sheet } from './pieces.ts'
import type { Line, Setter, Style } from './setting.ts'

export interface LabelRoom {
  readonly width: number
  readonly height: number
}

export interface SetLabel {
  /** What was cut; empty when all of it is there. */
  readonly warnings: readonly string[]
  paint(sheet: Sheet, left: number, top: number): void
}

/** Of the smaller side: printers and cutters are not exact. */
const edgeShare = 0.07
const leastEdge = 3
const markSizes = { most: 30, least: 8 }
/** Of the height; the mark gives way before lines are cut. */
const markShares = [0.42, 0.34, 0.27]
/** Down to `whole` every line stays on one line; smaller than that it had better wrap. */
const lineSizes = { most: 9, whole: 6.8, least: 5.2 }
const sizeStep = 0.4
const leadingInSizes = 1.22
/** A code takes at most this much of the width. */
const codeShare = 0.46
/** Smaller modules are hard to read with a phone: 0.3 mm. Common practice, no source. */
const leastModule = 0.85

const markStyle = (size: number): Style => ({ face: 'tableStrong', size })
const lineStyle = (size: number): Style => ({ face: 'table', size })

export function setLabel(label: Label, room: LabelRoom, setter: Setter): SetLabel {
  const warnings: string[] = []
  const warn = (sentence: string): void => void warnings.push(`Label ${label.name}: ${sentence}`)
  const edge = Math.max(leastEdge, Math.min(room.width, room.height) * edgeShare)
  const code = setCode(label, room, warn)
  const width = room.width - edge - (code === null ? edge : code.side)
  const height = room.height - edge * 2

  const shares = label.lines.length === 0 ? [0.75] : markShares
  const tries = shares.map((share) => setText(label, width, height, height * share, setter))
  const text = tries.find(({ markCut, lines }) => !markCut && !lines.cut) ?? tries.at(-1)
  if (text === undefined) throw new Error('a label is tried at one size at least')
  const { mark, markSize, markHeight, linesTop, lines } = text
  if (text.markCut) warn(`the mark "${label.mark}" is cut; it has no room.`)
  if (lines.cut) warn('its lines are cut; they have no room.')

  return {
    warnings,
    paint(sheet, left, top) {
      const { pen, root } = sheet
      const textLeft = left + edge
      sheet.say(sheet.element(root, 'P'), () =>
        pen.text(mark, textLeft, top + edge + markHeight * 0.93, markSize, 'ink'),
      )
      const first = top + edge + linesTop + lines.size * 0.86
      const few = { lines: lines.lines, tail: null }
      if (lines.lines.length > 0)
        sheet.say(sheet.element(root, 'P'), () =>
          paintLines(pen, few, textLeft, first, width, lines.size, lines.size * leadingInSizes, 'ink'),
        )
      if (code === null) return
      const place = {
        left: left + room.width - code.side,
        top: top + (room.height - code.side) / 2,
        width: code.side,
        height: code.side,
      }
      const shows = { text: `Code: ${label.codeText ?? ''}`, place }
      sheet.say(sheet.element(root, 'Figure', { shows }), () =>
        pen.fills(
          code.rectangles.map(([x, y, wide, high]) => [place.left + x, place.top + y, wide, high]),
          'ink',
        ),
      )
    },
  }
}

function setText(label: Label, width: number, height: number, markMost: number, setter: Setter) {
  const markWidth = setter.width(label.mark, markStyle(1))
  const most = Math.min(markSizes.most, markMost)
  const markSize = Math.max(markSizes.least, Math.min(most, width / Math.max(0.01, markWidth)))
  const markHeight = label.mark === '' ? 0 : markSize * 0.82
  const linesTop = label.mark === '' ? 0 : markHeight + markSize * 0.16 + 1
  return {
    mark: setter.shorten(label.mark, markStyle(markSize), width),
    markSize,
    markHeight,
    markCut: markWidth * markSize > width + 0.01,
    linesTop,
    lines: setLines(label.lines, width, height - linesTop, setter),
  }
}

function setCode(label: Label, room: LabelRoom, warn: (sentence: string) => void) {
  if (label.codeText === null) return null
  const side = Math.min(room.height, room.width * codeShare)
  const { modulePoints, rectangles } = codeShape(label.codeText, side)
  if (modulePoints < leastModule) {
    warn('its code is left out; at this size no phone would read it.')
    return null
  }
  return { side, rectangles }
}

/** All lines at the largest size at which they fit; at the smallest, as many as there is room for. */
function setLines(
  texts: readonly string[],
  width: number,
  height: number,
  setter: Setter,
): { readonly lines: readonly Line[]; readonly size: number; readonly cut: boolean } {
  const at = (size: number): Line[] => texts.flatMap((text) => setter.wrap(text, lineStyle(size), width))
  const fits = (count: number, size: number): boolean =>
    count === 0 || (count - 1) * size * leadingInSizes + size <= height + 0.01
  for (let size = lineSizes.most; size >= lineSizes.whole; size -= sizeStep) {
    const lines = at(size)
    if (lines.length <= texts.length && fits(lines.length, size)) return { lines, size, cut: false }
  }
  for (let size = lineSizes.most; size > lineSizes.least; size -= sizeStep) {
    const lines = at(size)
    if (fits(lines.length, size)) return { lines, size, cut: false }
  }
  const size = lineSizes.least
  const lines = at(size)
  let count = lines.length
  while (!fits(count, size)) count -= 1
  if (count === lines.length) return { lines, size, cut: false }
  const kept = lines.slice(0, Math.max(0, count))
  const last = kept.pop()
  const words = last?.runs.map(({ text }) => text).join('') ?? ''
  const ended = last === undefined ? [] : [setter.shorten(`${words.trimEnd()} …`, lineStyle(size), width)]
  return { lines: [...kept, ...ended], size, cut: true }
}

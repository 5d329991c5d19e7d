// Puts ink on one page after another: text, rules and shapes as the page's own operators, in points from the top left.
import { moved, type Dash, type Drawing, type Ink, type Point, type Shape } from '../drawing/index.ts'
import type { Face } from './faces.ts'
import { wordsOf } from './faces.ts'
import type { PdfFont, PdfInside } from './pdf-inside.ts'
import type { Line } from './setting.ts'
import type { Setter } from './setting.ts'

/** The roles of look.md. Paper is white; the tint serves group headings. */
const inks: Readonly<Record<Ink | 'tint', string>> = {
  ink: '1c2530',
  soft: '5d6672',
  rule: 'd9d2c3',
  blue: '24476b',
  brass: '9a6a1c',
  red: 'a8321f',
  sheet: 'ffffff',
  tint: 'f1ebdf',
}

const colourOf = (ink: Ink | 'tint'): string =>
  [0, 2, 4].map((at) => Math.round((parseInt(inks[ink].slice(at, at + 2), 16) / 255) * 1000) / 1000).join(' ')

const n = (value: number): string => String(Math.round(value * 100) / 100)

export interface Pen {
  /** Text whose baseline starts at x, y. */
  text(line: Line, x: number, y: number, size: number, ink: Ink): void
  rule(x1: number, y1: number, x2: number, y2: number, width: number, ink: Ink): void
  fill(x: number, y: number, width: number, height: number, ink: Ink | 'tint'): void
  drawing(drawing: Drawing, x: number, y: number): void
  /** Rectangles as one shape: left, top, width, height. */
  fills(rectangles: readonly (readonly [number, number, number, number])[], ink: Ink): void
  /** The operators of a line that starts at 0, 0 with y upwards, for words that are settled later. */
  lettering(line: Line, size: number, ink: Ink): string
  /** Ready-made operators among the others. */
  operators(operators: string): void
  /** Sends what was drawn to the page; needed before anything else writes to it. */
  flush(): void
  /** Call once a page is new. */
  newPage(): void
}

interface Glyphs {
  /** Parts of a TJ array, and how far the part is lifted, in ems. */
  readonly parts: readonly { readonly array: string; readonly rise: number }[]
}

/** The operators that show a word: glyphs with their kerning, accents lifted where the font says so. */
function glyphsOf(font: PdfFont, word: string): Glyphs {
  const [codes, positions] = font.encode(word)
  const parts: { array: string; rise: number }[] = []
  let hex = ''
  let array = ''
  let rise = 0
  const close = (): void => {
    if (hex !== '') array += `<${hex}>`
    hex = ''
  }
  const move = (distance: number): void => {
    if (Math.abs(distance) < 0.01) return
    close()
    array += ` ${n(-distance)} `
  }
  for (const [index, position] of positions.entries()) {
    if (position.yOffset !== rise) {
      close()
      if (array !== '') parts.push({ array, rise: rise / 1000 })
      array = ''
      rise = position.yOffset
    }
    move(position.xOffset)
    hex += codes[index] ?? ''
    move(position.xAdvance - position.advanceWidth - position.xOffset)
  }
  close()
  parts.push({ array, rise: rise / 1000 })
  return { parts }
}

export function openPen(inside: PdfInside, setter: Setter): Pen {
  const glyphs = new Map<Face, Map<string, Glyphs>>()
  let ops: string[] = []
  let filled = ''
  let stroked = ''
  let dashed = ''

  const fillWith = (ink: Ink | 'tint'): void => {
    const colour = colourOf(ink)
    if (colour !== filled) ops.push(`${colour} rg`)
    filled = colour
  }
  const strokeWith = (ink: Ink, width: number, dash?: Dash): void => {
    const colour = `${colourOf(ink)} RG ${n(width)} w`
    if (colour !== stroked) ops.push(colour)
    stroked = colour
    const pattern = dash === undefined ? '' : dash.map(n).join(' ')
    if (pattern !== dashed) ops.push(`[${pattern}] 0 d`)
    dashed = pattern
  }
  const known = (face: Face, font: PdfFont, word: string): Glyphs => {
    let words = glyphs.get(face)
    if (words === undefined) glyphs.set(face, (words = new Map()))
    let found = words.get(word)
    if (found === undefined) {
      if (words.size > 50_000) words.clear()
      words.set(word, (found = glyphsOf(font, word)))
    }
    return found
  }

  const along = (points: readonly Point[]): string =>
    points.map((point, index) => `${n(point.x)} ${n(point.y)} ${index === 0 ? 'm' : 'l'}`).join(' ')

  const paintShape = (shape: Shape): void => {
    switch (shape.form) {
      case 'line':
        strokeWith(shape.ink, shape.width, shape.dash)
        ops.push(`${along([shape.from, shape.to])} S`)
        break
      case 'circle':
        strokeWith(shape.ink, shape.width, shape.dash)
        ops.push(circle(shape.centre.x, shape.centre.y, shape.radius))
        break
      case 'polygon':
        fillWith(shape.fill)
        ops.push(`${along(shape.points)} h f`)
        break
      case 'outline':
        strokeWith(shape.ink, shape.width, shape.dash)
        ops.push(`${along(shape.points)} ${shape.closed ? 'h S' : 'S'}`)
        break
      case 'text': {
        const line = setter.line(shape.text, { face: 'tableStrong', size: shape.size })
        const width = line.width * shape.size
        const before = shape.align === 'start' ? 0 : shape.align === 'end' ? width : width / 2
        pen.text(line, shape.at.x - before, shape.at.y, shape.size, shape.ink)
        break
      }
    }
  }

  const lettersOf = (line: Line, matrix: string, size: number): string => {
    let operators = `BT ${matrix} Tm`
    for (const run of line.runs) {
      const font = inside.useFont(run.face)
      operators += ` /${font.id} ${n(size)} Tf`
      let array = ''
      for (const word of wordsOf(run.text))
        for (const part of known(run.face, font, word).parts) {
          if (part.rise === 0) array += part.array
          else {
            if (array !== '') operators += ` [${array}] TJ`
            operators += ` ${n(part.rise * size)} Ts [${part.array}] TJ 0 Ts`
            array = ''
          }
        }
      if (array !== '') operators += ` [${array}] TJ`
    }
    return `${operators} ET`
  }

  const pen: Pen = {
    text(line, x, y, size, ink) {
      if (line.runs.length === 0) return
      fillWith(ink)
      // The page's y axis points down, so the letters are turned back up.
      ops.push(lettersOf(line, `1 0 0 -1 ${n(x)} ${n(y)}`, size))
    },
    lettering: (line, size, ink) => `${colourOf(ink)} rg ${lettersOf(line, '1 0 0 1 0 0', size)}`,
    operators: (operators) => ops.push(operators),
    fills(rectangles, ink) {
      fillWith(ink)
      const paths = rectangles.map((each) => `${each.map(n).join(' ')} re`)
      ops.push(`${paths.join(' ')} f`)
    },
    rule(x1, y1, x2, y2, width, ink) {
      strokeWith(ink, width)
      ops.push(`${n(x1)} ${n(y1)} m ${n(x2)} ${n(y2)} l S`)
    },
    fill(x, y, width, height, ink) {
      fillWith(ink)
      ops.push(`${n(x)} ${n(y)} ${n(width)} ${n(height)} re f`)
    },
    drawing(drawing, x, y) {
      for (const shape of drawing.shapes) paintShape(moved(shape, x, y))
    },
    flush() {
      if (ops.length > 0) inside.content(ops.join('\n'))
      ops = []
    },
    newPage() {
      ops = []
      filled = ''
      stroked = ''
      dashed = ''
    },
  }
  return pen
}

/** Four curves; 0.5523 of the radius comes within 0.03 % of a circle. */
function circle(x: number, y: number, r: number): string {
  const k = r * 0.5523
  const at = (dx: number, dy: number): string => `${n(x + dx)} ${n(y + dy)}`
  return [
    `${at(r, 0)} m`,
    `${at(r, k)} ${at(k, r)} ${at(0, r)} c`,
    `${at(-k, r)} ${at(-r, k)} ${at(-r, 0)} c`,
    `${at(-r, -k)} ${at(-k, -r)} ${at(0, -r)} c`,
    `${at(k, -r)} ${at(r, -k)} ${at(r, 0)} c h S`,
  ].join(' ')
}

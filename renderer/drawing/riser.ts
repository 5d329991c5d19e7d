// A riser diagram: levels as bands, each supply a column with its box where it stands and what it feeds on each level.
import type { RiserFigureInput, RiserSupply } from '../../core/documents/index.ts'
import { corners, type Drawing, type Shape } from './shapes.ts'
import { textRoom } from './text-room.ts'

export interface RiserRoom {
  readonly width: number
  readonly height: number
  readonly textSize: number
}

const gap = 12
const leastColumn = 150
/** What the title of the sheet takes of its first page. */
const headRoom = 100
const nowhereName = 'Place not said'
/** Between a trunk and the words it feeds. */
const indent = 18

/** Parts text into lines that fit, after commas and before "to"; what is longer than the room stands alone. */
export function wrapped(text: string, size: number, room: number): readonly string[] {
  const lines: string[] = []
  let line = ''
  // A mark keeps its length, and a length its unit.
  for (const word of text.split(/(?<=,) | (?=to )/)) {
    const longer = line === '' ? word : `${line} ${word}`
    if (line !== '' && textRoom(longer, size) > room) {
      lines.push(line)
      line = word
    } else line = longer
  }
  return line === '' ? lines : [...lines, line]
}

interface Cell {
  readonly standsHere: boolean
  /** Each feed with its lines. */
  readonly feeds: readonly (readonly string[])[]
}

interface Band {
  readonly name: string
  readonly cells: readonly Cell[]
  readonly height: number
}

/** As many drawings as it takes for the words to be read: supplies side by side as the width allows, levels as the height. */
export function riserDrawings(input: RiserFigureInput, room: RiserRoom): readonly Drawing[] {
  const { textSize } = room
  const names = [nowhereName, ...input.levels.map(({ name }) => name)]
  const labelWidth = Math.max(56, ...names.map((name) => textRoom(name, textSize + 1) + 12))
  const each = Math.max(1, Math.floor((room.width - labelWidth) / (leastColumn + gap)))
  const pages = Math.max(1, Math.ceil(input.supplies.length / each))
  // Evenly over the pages, so that the last is not left with one.
  const columns = Math.max(1, Math.ceil(input.supplies.length / pages))
  const drawings: Drawing[] = []
  for (let first = 0; first < input.supplies.length; first += columns) {
    const supplies = input.supplies.slice(first, first + columns)
    const columnWidth = (room.width - labelWidth) / columns - gap
    for (const bands of pagesOfBands(
      bandsOf(input, supplies, columnWidth, textSize),
      room.height - (drawings.length === 0 ? headRoom : 0),
      room.height,
    ))
      drawings.push(drawn(input, supplies, bands, { room, labelWidth, columnWidth }))
  }
  return drawings
}

const lineHeight = (textSize: number): number => textSize * 1.32
const boxHeight = (textSize: number): number => lineHeight(textSize) * 3 + 8

function bandsOf(
  { levels }: RiserFigureInput,
  supplies: readonly RiserSupply[],
  columnWidth: number,
  textSize: number,
): readonly Band[] {
  const nowhere = supplies.some(({ levelId }) => levelId === null)
  const places = [...(nowhere ? [{ id: null, name: nowhereName }] : []), ...levels]
  return places.map(({ id, name }) => {
    const cells = supplies.map(({ levelId, feeds }): Cell => ({
      standsHere: levelId === id,
      feeds: feeds
        .filter((feed) => feed.levelId === id)
        .flatMap(({ lines }) => lines.map((line) => wrapped(line, textSize, columnWidth - indent))),
    }))
    return { name, cells, height: bandHeight(cells, textSize) }
  })
}

const cellHeight = ({ standsHere, feeds }: Cell, textSize: number): number =>
  (standsHere ? boxHeight(textSize) + 6 : 0) +
  feeds.reduce((sum, lines) => sum + lines.length * lineHeight(textSize) + 3, 0)

const bandHeight = (cells: readonly Cell[], textSize: number): number =>
  Math.max(lineHeight(textSize) * 2, ...cells.map((cell) => cellHeight(cell, textSize))) + 14

/** Bands page by page from the top; one that is higher than a page has one of its own, and the printer scales it. */
function pagesOfBands(bands: readonly Band[], first: number, height: number): readonly (readonly Band[])[] {
  const pages: Band[][] = [[]]
  let left = first
  for (const band of bands) {
    if (band.height > left && pages.at(-1)?.length !== 0) {
      pages.push([])
      left = height
    }
    pages.at(-1)?.push(band)
    left -= band.height
  }
  return pages
}

function drawn(
  { building, levels }: RiserFigureInput,
  supplies: readonly RiserSupply[],
  bands: readonly Band[],
  { room, labelWidth, columnWidth }: { room: RiserRoom; labelWidth: number; columnWidth: number },
): Drawing {
  const { textSize, width } = room
  const shapes: Shape[] = []
  const tops: number[] = []
  let y = 0
  for (const { name, height } of bands) {
    tops.push(y)
    shapes.push(
      { form: 'line', from: { x: 0, y: y + 0.5 }, to: { x: width, y: y + 0.5 }, width: 0.8, ink: 'rule' },
      {
        form: 'text',
        at: { x: 0, y: y + textSize + 9 },
        text: name,
        size: textSize + 1,
        ink: 'ink',
        align: 'start',
      },
    )
    y += height
  }
  shapes.push({
    form: 'line',
    from: { x: 0, y: y - 0.5 },
    to: { x: width, y: y - 0.5 },
    width: 0.8,
    ink: 'rule',
  })
  for (const [column, supply] of supplies.entries()) {
    const left = labelWidth + column * (columnWidth + gap)
    shapes.push(...supplyShapes(supply, bands, tops, column, left, columnWidth, textSize))
  }
  const fed = supplies.map(({ mark, feeds }) => {
    const there = feeds.map(({ levelId }) => levels.find(({ id }) => id === levelId)?.name ?? '')
    return `${mark} feeds ${there.join(' and ') || 'nothing yet'}`
  })
  return { width, height: y, shapes, name: `Riser diagram of ${building}: ${fed.join('; ')}.` }
}

function supplyShapes(
  { mark, where, rating }: RiserSupply,
  bands: readonly Band[],
  tops: readonly number[],
  column: number,
  left: number,
  columnWidth: number,
  textSize: number,
): readonly Shape[] {
  const shapes: Shape[] = []
  const trunkX = left + 6
  const joints: number[] = []
  const line = lineHeight(textSize)
  for (const [index, band] of bands.entries()) {
    const cell = band.cells[column]
    if (cell === undefined) continue
    let y = (tops[index] ?? 0) + 7
    if (cell.standsHere) {
      const bottom = y + boxHeight(textSize)
      shapes.push(
        {
          form: 'outline',
          points: corners({ left, right: left + columnWidth, top: y, bottom }),
          closed: true,
          width: 1.2,
          ink: 'ink',
          part: `supply ${mark}`,
        },
        {
          form: 'text',
          at: { x: left + 6, y: y + line },
          text: mark,
          size: textSize + 2,
          ink: 'ink',
          align: 'start',
        },
        {
          form: 'text',
          at: { x: left + columnWidth - 6, y: y + line },
          text: rating,
          size: textSize,
          ink: 'blue',
          align: 'end',
        },
      )
      for (const [nth, words] of wrapped(where, textSize, columnWidth - 12)
        .slice(0, 2)
        .entries())
        shapes.push({
          form: 'text',
          at: { x: left + 6, y: y + line * (nth + 2) },
          text: words,
          size: textSize,
          ink: 'soft',
          align: 'start',
        })
      joints.push(y, bottom)
      y = bottom + 6
    }
    for (const lines of cell.feeds) {
      joints.push(y + textSize * 0.6)
      shapes.push({
        form: 'line',
        from: { x: trunkX, y: y + textSize * 0.6 },
        to: { x: left + indent - 4, y: y + textSize * 0.6 },
        width: 1,
        ink: 'blue',
        part: 'feed',
      })
      for (const words of lines) {
        shapes.push({
          form: 'text',
          at: { x: left + indent, y: y + textSize * 0.95 },
          text: words,
          size: textSize,
          ink: 'ink',
          align: 'start',
        })
        y += line
      }
      y += 3
    }
  }
  const trunk = trunkOf(joints, bands, tops, column, textSize)
  return [
    ...trunk.map(({ from, to }): Shape => ({
      form: 'line',
      from: { x: trunkX, y: from },
      to: { x: trunkX, y: to },
      width: 1.4,
      ink: 'blue',
      part: `trunk ${mark}`,
    })),
    ...shapes,
  ]
}

/** From the box to the farthest feed above and below it, never through the box. */
function trunkOf(
  joints: readonly number[],
  bands: readonly Band[],
  tops: readonly number[],
  column: number,
  textSize: number,
): readonly { readonly from: number; readonly to: number }[] {
  if (joints.length === 0) return []
  const [highest, lowest] = [Math.min(...joints), Math.max(...joints)]
  const home = bands.findIndex(({ cells }) => cells[column]?.standsHere === true)
  if (home < 0) return lowest > highest ? [{ from: highest, to: lowest }] : []
  const top = (tops[home] ?? 0) + 7
  const bottom = top + boxHeight(textSize)
  return [
    ...(highest < top ? [{ from: highest, to: top }] : []),
    ...(lowest > bottom ? [{ from: bottom, to: lowest }] : []),
  ]
}

// A face at full size, to lay on the work: one unit is 1/72 in., so paper that paints it unscaled measures true.
import type { TemplateFigureInput } from '../../core/documents/index.ts'
import { micrometresPerInch } from '../../core/job/index.ts'
import type { PreparedSurface } from '../../core/preparation/index.ts'
import { placeLabels, type Labelled } from './labels.ts'
import { boxShape, clipped } from './preparation-clip.ts'
import {
  centreLines,
  extentOf,
  halfHeight,
  halfWidth,
  holesTogether,
  holesWithPlace,
  holeShapes,
  pointsPerMicrometre,
  regionOf,
  segmentsOf,
  viewOf,
  type DrawnHole,
  type Region,
  type View,
} from './preparation-view.ts'
import { corners, moved, type Box, type Drawing, type Point, type Shape } from './shapes.ts'
import { boxOf, textRoom } from './text-room.ts'

/** Room for a drawing on one page, in points. */
export interface TemplatePage {
  readonly width: number
  readonly height: number
}

export interface TemplateSheet {
  /** Exactly as large as the page's room; to be painted at its own size, never fitted. */
  readonly drawing: Drawing
  readonly number: number
  /** From the top left, from 0. */
  readonly row: number
  readonly column: number
}

export interface Template {
  readonly sheets: readonly TemplateSheet[]
  readonly rows: number
  readonly columns: number
}

const pointsPerMillimetre = 72 / 25.4
export const hundredMillimetres = 100 * pointsPerMillimetre
export const fourInches = 4 * 72

const margin = 0.5 * micrometresPerInch
const headRoom = 54
const footRoom = 50
const sideRoom = 46
const least = 300
const leastOverlap = 36
const textSize = 9.5
const cross = 9

/**
 * The template of one face, over as many pages as it takes. `heading` says whose it is. Null where no hole has its
 * place. Throws where a page has no room for the bars that must be measured.
 */
export function templateDrawing(
  surface: PreparedSurface,
  heading: string,
  page: TemplatePage,
): Template | null {
  if (page.width < least + sideRoom || page.height < least + headRoom + footRoom)
    throw new Error('a page too small for the bars of a template')
  const region = regionOf(surface, margin)
  if (region === null) return null
  const view = viewOf(surface, region, pointsPerMicrometre)
  const whole = view.box(region)
  const map = mapOf(surface, region, view)
  const room = { width: page.width - sideRoom, height: page.height - headRoom - footRoom }
  const diameters = surface.holes.map(
    (hole) => 2 * Math.max(halfWidth(hole), halfHeight(hole)) * pointsPerMicrometre,
  )
  // A hole that one page cuts lies whole on the next.
  const lap = Math.max(leastOverlap, ...diameters.map((each) => each + 20))
  const columns = pagesAlong(whole.right + 2 * pad, room.width, lap)
  const rows = pagesAlong(whole.bottom + 2 * pad, room.height, lap)
  const marks = registerMarks(columns, rows, room, lap, whole)
  const sheets = Array.from({ length: rows * columns }, (_, index): TemplateSheet => {
    const [row, column] = [Math.floor(index / columns), index % columns]
    const box = {
      left: column * (room.width - lap) - pad,
      top: row * (room.height - lap) - pad,
      right: column * (room.width - lap) - pad + room.width,
      bottom: row * (room.height - lap) - pad + room.height,
    }
    const place = { number: index + 1, of: rows * columns, row, column }
    const cut = cutHoles(surface, view, box, lap)
    const whole = holesWithPlace(surface).filter(({ hole }) => !cut.has(`hole ${hole.number}`))
    const shown = [...map, ...marks.flatMap(markShapes)]
      .filter(({ part }) => !cut.has(part ?? ''))
      .flatMap((shape) => clipped(shape, box))
    const here = whole.filter(({ hole }) => shown.some(({ part }) => part === `hole ${hole.number}`))
    const inside = [...shown, ...labelShapes(here, shown, view, box)]
    return {
      number: index + 1,
      row,
      column,
      drawing: {
        name: `${heading}. ${surface.title}, full size, sheet ${index + 1} of ${rows * columns}. ${warning}`,
        width: page.width,
        height: page.height,
        shapes: [
          ...inside.map((shape) => moved(shape, sideRoom - box.left, headRoom - box.top)),
          boxShape(
            { left: sideRoom, top: headRoom, right: page.width, bottom: page.height - footRoom },
            'sheet edge',
          ),
          ...headShapes(surface, heading, place, { rows, columns }, marks, box, page),
          ...barShapes(page),
        ],
      },
    }
  })
  return { sheets, rows, columns }
}

/** Parts of the holes that this sheet would cut and the next shows whole. */
function cutHoles(surface: PreparedSurface, view: View, box: Box, lap: number): ReadonlySet<string> {
  const cut = new Set<string>()
  for (const { hole, x, y } of holesWithPlace(surface)) {
    const at = view.at(x, y)
    const reach = Math.max(halfWidth(hole), halfHeight(hole)) * pointsPerMicrometre
    const isWhole =
      at.x - reach >= box.left &&
      at.x + reach <= box.right &&
      at.y - reach >= box.top &&
      at.y + reach <= box.bottom
    if (!isWhole && 2 * reach < lap) for (const part of partsOf(hole.number)) cut.add(part)
  }
  return cut
}
const partsOf = (number: number): readonly string[] => [`hole ${number}`, `centre ${number}`]

/** For pages with this room; where a page is too small for the bars the sheets are larger than it, and paper refuses them. */
export function templateFigure(
  { heading, surface }: TemplateFigureInput,
  room: TemplatePage,
): readonly Drawing[] {
  const page = {
    width: Math.max(room.width, least + sideRoom),
    height: Math.max(room.height, least + headRoom + footRoom),
  }
  return templateDrawing(surface, heading, page)?.sheets.map(({ drawing }) => drawing) ?? []
}

/** Around the face, so that its edges are not the sheet's. */
const pad = 14

const pagesAlong = (length: number, room: number, lap: number): number =>
  length <= room ? 1 : Math.ceil((length - lap) / (room - lap))

const warning = 'Do not drill until both bars measure true.'

/** Everything on the face, with the region's top left corner at 0, 0. */
function mapOf(surface: PreparedSurface, region: Region, view: View): Shape[] {
  const { left, right, top, bottom, edges } = region
  const line = (from: Point, to: Point, part: string): Shape => ({
    form: 'line',
    from,
    to,
    width: 1,
    ink: 'ink',
    part,
  })
  const faceEdges = [
    ...(edges.left ? [line(view.at(left, top), view.at(left, bottom), 'edge across')] : []),
    ...(edges.right ? [line(view.at(right, top), view.at(right, bottom), 'edge')] : []),
    ...(edges.top ? [line(view.at(left, top), view.at(right, top), 'edge along')] : []),
    ...(edges.bottom ? [line(view.at(left, bottom), view.at(right, bottom), 'edge')] : []),
  ]
  const bodies = surface.bodies.map((body): Shape => ({
    form: 'outline',
    points: corners(view.box(body)),
    closed: true,
    width: 0.6,
    ink: 'blue',
    dash: [8, 4],
    part: `body ${body.name}`,
  }))
  const holes = holesWithPlace(surface)
  const drawn = holes.flatMap((each) => [
    ...openShapes(each, view),
    ...centreLines({ ...each, hole: { ...each.hole, depthMicrometres: null } }, view, 14, 0.5),
  ])
  return [...faceEdges, ...bodies, ...drawn, ...edgeLabels(surface, region, view)]
}

/** Numbers and sizes beside the holes that this sheet shows whole, all on this sheet. */
function labelShapes(holes: readonly DrawnHole[], map: readonly Shape[], view: View, box: Box): Shape[] {
  const far = 10_000
  const walls: readonly Box[] = [
    { left: -far, right: box.left, top: -far, bottom: far },
    { left: box.right, right: far, top: -far, bottom: far },
    { left: -far, right: far, top: -far, bottom: box.top },
    { left: -far, right: far, top: box.bottom, bottom: far },
  ]
  const texts = map.filter(({ form }) => form === 'text').map(boxOf)
  return placeLabels(
    holeLabels(holes, view),
    { solid: [...walls, ...texts], lines: map.flatMap(segmentsOf), softLines: [] },
    textSize * 0.85,
  )
}

/** Drills at one place are told in one label. */
const holeLabels = (holes: readonly DrawnHole[], view: View): Labelled[] =>
  holesTogether(holes).map((group) => ({
    text: group
      .map(({ hole }) => `${hole.number}: ${hole.sizeText}, ${hole.depthText.replace(', blind', '')}`)
      .join('; '),
    target: extentOf(group.flatMap((each) => openShapes(each, view))),
    part: group.map(({ hole }) => hole.number).join(' '),
    uncertain: false,
  }))

/** Never filled: the drill's point must find the middle. */
const openShapes = (each: Parameters<typeof holeShapes>[0], view: View): Shape[] =>
  holeShapes(each, view).filter(({ form }) => form !== 'polygon')

/** Which printed line lies on which edge. */
function edgeLabels(
  surface: PreparedSurface,
  { left, right, top, bottom, edges }: Region,
  view: View,
): Shape[] {
  const shapes: Shape[] = []
  const align = view.turned ? 'end' : 'start'
  const inwards = view.turned ? -6 : 6
  const corner = view.at(left, view.upwards ? bottom : top)
  if (edges.left)
    shapes.push({
      form: 'text',
      at: {
        x: corner.x + inwards,
        y: view.upwards ? view.at(left, bottom).y + textSize * 1.2 : view.at(left, bottom).y - textSize,
      },
      text: `this line on the ${surface.acrossFrom}`,
      size: textSize,
      ink: 'ink',
      align,
      part: 'edge name across',
    })
  // At both ends, so that each sheet of a row shows one of them.
  if (edges.top)
    for (const end of [left, right]) {
      const { x, y } = view.at(end, top)
      const isLeftEnd = (end === left) !== view.turned
      shapes.push({
        form: 'text',
        at: { x: x + (isLeftEnd ? 6 : -6), y: view.upwards ? y + textSize + 1 : y - 4 },
        text: `this line on the ${surface.alongFrom}`,
        size: textSize,
        ink: 'ink',
        align: isLeftEnd ? 'start' : 'end',
        part: 'edge name along',
      })
    }
  return shapes
}

interface Mark {
  readonly letter: string
  readonly at: Point
}

/** Crosses in the middle of every overlap: the same cross is printed on both sheets. */
function registerMarks(
  columns: number,
  rows: number,
  room: TemplatePage,
  lap: number,
  whole: Box,
): readonly Mark[] {
  const places: Point[] = []
  const [stepX, stepY] = [room.width - lap, room.height - lap]
  const spread = (index: number, step: number, size: number, end: number): readonly number[] => {
    const from = index * step - pad
    const to = Math.min(from + size, end + pad)
    return [from + (to - from) * 0.12, from + (to - from) * 0.88]
  }
  for (let column = 1; column < columns; column += 1)
    for (let row = 0; row < rows; row += 1)
      for (const y of spread(row, stepY, room.height, whole.bottom))
        places.push({ x: column * stepX - pad + lap / 2, y })
  for (let row = 1; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1)
      for (const x of spread(column, stepX, room.width, whole.right))
        places.push({ x, y: row * stepY - pad + lap / 2 })
  return places.map((at, index) => ({ letter: letterOf(index), at }))
}

const letterOf = (index: number): string =>
  (index >= 26 ? letterOf(Math.floor(index / 26) - 1) : '') + String.fromCharCode(65 + (index % 26))

function markShapes({ letter, at: { x, y } }: Mark): Shape[] {
  const part = `register ${letter}`
  const line = (from: Point, to: Point): Shape => ({ form: 'line', from, to, width: 0.6, ink: 'ink', part })
  return [
    line({ x: x - cross, y }, { x: x + cross, y }),
    line({ x, y: y - cross }, { x, y: y + cross }),
    { form: 'circle', centre: { x, y }, radius: cross * 0.6, width: 0.6, ink: 'ink', part },
    {
      form: 'text',
      at: { x: x + cross * 0.7, y: y - cross * 0.5 },
      text: letter,
      size: 8,
      ink: 'ink',
      align: 'start',
      part,
    },
  ]
}

interface SheetPlace {
  readonly number: number
  readonly of: number
  readonly row: number
  readonly column: number
}

function headShapes(
  surface: PreparedSurface,
  heading: string,
  place: SheetPlace,
  grid: { readonly rows: number; readonly columns: number },
  marks: readonly Mark[],
  box: Box,
  page: TemplatePage,
): Shape[] {
  const text = (words: string, y: number, size: number, ink: 'ink' | 'soft'): Shape => ({
    form: 'text',
    at: { x: 0, y },
    text: words,
    size: Math.min(size, (page.width / textRoom(words, 1)) * 0.99),
    ink,
    align: 'start',
    part: 'head',
  })
  const turn = surface.strikeAt === null ? ' Hand not known: do not use.' : ''
  return [
    text(`Full size: ${heading}. ${surface.title}.${turn}`, 11, 11, 'ink'),
    text(joinWords(place, grid, marks, box), 25, 9, 'soft'),
    text(`Print at 100 %, not fitted to the page. ${warning}`, 41, 12, 'ink'),
  ]
}

function joinWords(
  { number, of, row, column }: SheetPlace,
  { rows, columns }: { readonly rows: number; readonly columns: number },
  marks: readonly Mark[],
  box: Box,
): string {
  if (of === 1) return 'One sheet.'
  const here = marks.filter(
    ({ at }) => at.x >= box.left && at.x <= box.right && at.y >= box.top && at.y <= box.bottom,
  )
  const joins = [
    column > 0 ? `sheet ${number - 1} on its left` : null,
    column < columns - 1 ? `sheet ${number + 1} on its right` : null,
    row > 0 ? `sheet ${number - columns} above` : null,
    row < rows - 1 ? `sheet ${number + columns} below` : null,
  ].filter((each) => each !== null)
  const letters = here.map(({ letter }) => letter).join(', ')
  return `Sheet ${number} of ${of}. Joins ${joins.join(', ')}: lay cross on cross (${letters}), then tape.`
}

/** What must be measured before the template is used: across in both units, and down the page. */
function barShapes(page: TemplatePage): Shape[] {
  const y = page.height - footRoom
  return [
    ...bar({ x: sideRoom, y: y + 16 }, { x: sideRoom + hundredMillimetres, y: y + 16 }, 'bar 100 mm'),
    words({ x: sideRoom + hundredMillimetres + 8, y: y + 19.5 }, 'must measure 100 mm'),
    ...bar({ x: sideRoom, y: y + 36 }, { x: sideRoom + fourInches, y: y + 36 }, 'bar 4 in.'),
    words({ x: sideRoom + fourInches + 8, y: y + 39.5 }, 'must measure 4 in.'),
    ...bar({ x: 36, y: headRoom + 8 }, { x: 36, y: headRoom + 8 + hundredMillimetres }, 'bar 100 mm down'),
    words({ x: 0, y: headRoom + 14 }, 'must'),
    words({ x: 0, y: headRoom + 25 }, 'measure'),
    words({ x: 0, y: headRoom + 36 }, '100 mm'),
  ]
}

const words = (at: Point, text: string): Shape => ({
  form: 'text',
  at,
  text,
  size: 8.5,
  ink: 'ink',
  align: 'start',
  part: 'bar words',
})

function bar(from: Point, to: Point, part: string): Shape[] {
  const across = from.y === to.y
  const end = ({ x, y }: Point): Shape => ({
    form: 'line',
    from: across ? { x, y: y - 6 } : { x: x - 6, y },
    to: across ? { x, y: y + 6 } : { x: x + 6, y },
    width: 0.6,
    ink: 'ink',
    part: `end of ${part}`,
  })
  return [{ form: 'line', from, to, width: 0.8, ink: 'ink', part }, end(from), end(to)]
}

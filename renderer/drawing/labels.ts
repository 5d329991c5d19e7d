// Puts a tag beside each fitting so that no tag covers another tag or a fitting.
import { corners, type Box, type Point, type Shape } from './shapes.ts'
import { capitalHeight, overlap, textRoom } from './text-room.ts'

export interface Labelled {
  readonly text: string
  /** What the tag belongs to. */
  readonly target: Box
  readonly part: string
  readonly uncertain: boolean
}

type Segment = readonly [Point, Point]

export interface Surroundings {
  /** Never covered. */
  readonly solid: readonly Box[]
  /** Better not crossed. */
  readonly lines: readonly Segment[]
  /** May be crossed where need be: the tag then stands on a patch of its own. */
  readonly softLines: readonly Segment[]
}

const gap = 3
const directions: readonly Point[] = [
  { x: 1, y: 0 },
  { x: -1, y: 0 },
  { x: 0, y: 1 },
  { x: 0, y: -1 },
  { x: 1, y: 1 },
  { x: -1, y: 1 },
  { x: 1, y: -1 },
  { x: -1, y: -1 },
]
const mostSteps = 24

const grown = ({ left, top, right, bottom }: Box, by: number): Box => ({
  left: left - by,
  top: top - by,
  right: right + by,
  bottom: bottom + by,
})

/** The room of a tag that stands in this direction from its target, so many steps away. */
function boxAt(target: Box, direction: Point, step: number, width: number, height: number): Box {
  const away = gap + step * 4
  const middleX = (target.left + target.right) / 2
  const middleY = (target.top + target.bottom) / 2
  const x =
    direction.x > 0 ? target.right + away : direction.x < 0 ? target.left - away - width : middleX - width / 2
  const y =
    direction.y > 0
      ? target.bottom + away
      : direction.y < 0
        ? target.top - away - height
        : middleY - height / 2
  return { left: x, top: y, right: x + width, bottom: y + height }
}

const samples = [...Array(41).keys()].map((at) => at / 40)

const crosses = (box: Box, [from, to]: Segment): boolean =>
  samples.some((share) => {
    const x = from.x + (to.x - from.x) * share
    const y = from.y + (to.y - from.y) * share
    return x > box.left && x < box.right && y > box.top && y < box.bottom
  })

/** The shortest line from the tag to its target. */
function leader(tag: Box, target: Box): { from: Point; to: Point; length: number } {
  const near = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value))
  const middle = { x: (tag.left + tag.right) / 2, y: (tag.top + tag.bottom) / 2 }
  const to = { x: near(middle.x, target.left, target.right), y: near(middle.y, target.top, target.bottom) }
  const from = { x: near(to.x, tag.left, tag.right), y: near(to.y, tag.top, tag.bottom) }
  return { from, to, length: Math.hypot(to.x - from.x, to.y - from.y) }
}

const leaderFrom = 7

/** Tags in the order given, each at the first good place; a tag that stands apart gets a line to its fitting. */
export function placeLabels(labels: readonly Labelled[], around: Surroundings, size: number): Shape[] {
  const taken: Box[] = [...around.solid, ...labels.map(({ target }) => target)]
  const shapes: Shape[] = []
  for (const label of labels) {
    const height = capitalHeight * size
    const place = bestPlace(label, taken, around, textRoom(label.text, size), height)
    taken.push(grown(place, 1))
    const { from, to, length } = leader(place, label.target)
    if (length > leaderFrom)
      shapes.push({ form: 'line', from, to, width: 0.6, ink: 'soft', part: `leader ${label.part}` })
    if (around.softLines.some((line) => crosses(place, line)))
      shapes.push({ form: 'polygon', points: corners(grown(place, 1)), fill: 'sheet', part: 'patch' })
    shapes.push({
      form: 'text',
      at: { x: (place.left + place.right) / 2, y: place.bottom },
      text: label.text,
      size,
      ink: label.uncertain ? 'brass' : 'ink',
      part: `label ${label.part}`,
    })
  }
  return shapes
}

function bestPlace(
  label: Labelled,
  taken: readonly Box[],
  around: Surroundings,
  width: number,
  height: number,
): Box {
  let best: { readonly box: Box; readonly cost: number } | null = null
  for (let step = 0; step < mostSteps; step += 1) {
    for (const [order, direction] of directions.entries()) {
      const box = boxAt(label.target, direction, step, width, height)
      if (taken.some((other) => overlap(grown(box, 1.5), other))) continue
      const crossed = (lines: readonly Segment[]): number =>
        lines.filter((line) => crosses(grown(box, 2), line)).length
      const slanting = direction.x !== 0 && direction.y !== 0 ? 5 : 0
      const cost =
        step * 3 + order * 0.5 + slanting + crossed(around.lines) * 10 + crossed(around.softLines) * 4
      if (best === null || cost < best.cost) best = { box, cost }
    }
    if (best !== null && best.cost <= step * 3) break
  }
  // Everything near is taken: below all that stands there is always room.
  if (best !== null) return best.box
  const lowest = Math.max(...taken.map(({ bottom }) => bottom)) + gap
  const left = label.target.left
  return { left, right: left + width, top: lowest, bottom: lowest + height }
}

// Volts along the run: distance across, volts down, each device a dot above its own minimum line.
import { figure, voltsFigureWords, type VoltsFigureInput, type VoltsPoint } from '../../core/power/index.ts'
import { placeLabels, type Labelled, type Surroundings } from './labels.ts'
import type { Box, Drawing, Ink, Point, Shape } from './shapes.ts'
import { textRoom } from './text-room.ts'

export interface VoltsBox {
  readonly width: number
  readonly height: number
  readonly textSize: number
}

const metresPerFoot = 0.3048
/** Devices that are named in the drawing; the table beside it has all. */
const mostNamed = 14
const tickReach = 11
/** Volts below the lowest dot that are still drawn. */
const mostBelow = 4
const dotRadius = 3.6

/** 1, 2 or 5 times a power of ten, so that at most so many steps cover the span. */
function niceStep(span: number, most: number): number {
  const least = span / most
  const power = 10 ** Math.floor(Math.log10(least))
  for (const times of [1, 2, 5, 10]) if (times * power >= least - 1e-12) return times * power
  return 10 * power
}

const multiples = (from: number, to: number, step: number): readonly number[] =>
  Array.from({ length: Math.floor((to - from) / step + 1e-9) + 1 }, (_, index) => from + index * step)

const dotCorners = 20
/** A dot that is filled, as a polygon of many corners. */
const dot = ({ x, y }: Point, radius: number, fill: Ink): Shape => ({
  form: 'polygon',
  points: Array.from({ length: dotCorners }, (_, corner) => {
    const turn = (corner / dotCorners) * 2 * Math.PI
    return { x: x + radius * Math.cos(turn), y: y + radius * Math.sin(turn) }
  }),
  fill,
})

interface Scale {
  readonly x: (metres: number) => number
  readonly y: (volts: number) => number
  readonly at: (point: VoltsPoint) => Point
}

export function voltsAlongRun(input: VoltsFigureInput, { width, height, textSize }: VoltsBox): Drawing {
  const { devices, cases, units } = input
  const unit = units === 'imperial' ? metresPerFoot : 1
  const given = [
    ...cases.flatMap(({ legs }) => legs.flatMap(({ from, to }) => [from.volts, to.volts])),
    ...devices.flatMap(({ worstVolts, batteryVolts }) =>
      [worstVolts, batteryVolts].filter((each) => each !== null),
    ),
  ]
  // Minimums far below all volts would press the lines flat; theirs run off the foot of the figure.
  const near = Math.min(...given) - mostBelow
  const volts = [
    ...given,
    ...devices.flatMap(({ minimumVolts }) =>
      minimumVolts === null || minimumVolts < near ? [] : [minimumVolts],
    ),
  ]
  const step = niceStep(Math.max(1, Math.max(...volts) - Math.min(...volts)), 7)
  const low = Math.floor((Math.min(...volts) - step * 0.4) / step) * step
  const high = Math.ceil((Math.max(...volts) + step * 0.2) / step) * step
  const farthest = Math.max(...devices.map(({ metres }) => metres), 0.1) / unit
  const across = niceStep(farthest, width < 480 ? 5 : 8)
  const area: Box = {
    left: textRoom('00.0 V', textSize) + 10,
    right: width - farRoom(input, textSize),
    top: 12 + cases.length * (textSize + 5),
    bottom: height - textSize - 12,
  }
  const scale: Scale = {
    x: (metres) => area.left + (metres / unit / farthest) * (area.right - area.left),
    y: (value) => area.bottom - ((value - low) / (high - low)) * (area.bottom - area.top),
    at: (point) => ({ x: scale.x(point.metres), y: scale.y(point.volts) }),
  }
  const decimals = step < 1 ? 1 : 0
  const grid: Shape[] = [
    ...multiples(low, high, step).flatMap((value): readonly Shape[] => [
      {
        form: 'line',
        from: { x: area.left, y: scale.y(value) },
        to: { x: area.right + 10, y: scale.y(value) },
        width: 0.6,
        ink: 'rule',
        part: 'grid',
      },
      {
        form: 'text',
        at: { x: area.left - 7, y: scale.y(value) + textSize * 0.35 },
        text: `${figure(value, decimals)} V`,
        size: textSize,
        ink: 'soft',
        align: 'end',
      },
    ]),
    ...multiples(0, farthest, across).map((value): Shape => ({
      form: 'text',
      at: { x: scale.x(value * unit), y: area.bottom + textSize + 6 },
      text: `${figure(value, across < 1 ? 1 : 0)} ${units === 'imperial' ? 'ft' : 'm'}`,
      size: textSize,
      ink: 'soft',
    })),
  ]
  const lines = cases.flatMap(({ key, legs }) =>
    legs.map(({ from, to }): Extract<Shape, { form: 'line' }> => ({
      form: 'line',
      from: scale.at(from),
      to: scale.at(to),
      width: key === 'worst' ? 1.8 : 1.2,
      ink: key === 'worst' ? 'blue' : 'soft',
      ...(key === 'worst' ? {} : { dash: [5, 3] as const }),
      part: `run ${key}`,
    })),
  )
  const marks = devices.flatMap((device) => deviceShapes(device, scale, low))
  const legend = cases.flatMap(({ key, words }, index) => legendLine(key, words, area, index, textSize))
  const labels = named(input).map((device): Labelled => {
    const at = scale.at({ metres: device.metres, volts: shownVolts(device) })
    return {
      text: `${device.name}, ${figure(shownVolts(device), 2)} V`,
      target: around(at, dotRadius),
      part: device.load,
      uncertain: false,
    }
  })
  const surroundings: Surroundings = {
    solid: [
      ...devices.flatMap((device) => deviceBoxes(device, scale, low)),
      // Below the area stand the distances, above it the legend, beside it the volts.
      { left: 0, right: width, top: area.bottom + 1, bottom: height },
      { left: 0, right: width, top: 0, bottom: area.top - 2 },
      { left: 0, right: area.left, top: 0, bottom: height },
      { left: width - 1, right: width * 2, top: 0, bottom: height },
    ],
    lines: lines.map(({ from, to }) => [from, to] as const),
    softLines: multiples(low, high, step).map(
      (value) =>
        [
          { x: area.left, y: scale.y(value) },
          { x: area.right + 10, y: scale.y(value) },
        ] as const,
    ),
  }
  const broken = new Set(devices.filter((each) => each.broken).map(({ load }) => `label ${load}`))
  const names = placeLabels(labels, surroundings, textSize).map((shape) =>
    shape.form === 'text' && broken.has(shape.part ?? '') ? { ...shape, ink: 'red' as const } : shape,
  )
  return {
    width,
    height,
    shapes: [...grid, ...legend, ...lines, ...marks, ...names],
    name: voltsFigureWords(input),
  }
}

type Device = VoltsFigureInput['devices'][number]

/** Room at the right for the name of what stands farthest. */
const farRoom = ({ devices }: VoltsFigureInput, textSize: number): number => {
  const farthest = devices.toSorted((one, other) => other.metres - one.metres).slice(0, 2)
  return 14 + Math.max(20, ...farthest.map(({ name }) => textRoom(`${name}, 00.00 V`, textSize)))
}

const isUnder = (volts: number | null, { minimumVolts }: Device): boolean =>
  volts !== null && minimumVolts !== null && volts < minimumVolts

/** What is said beside the dot: what it has at worst on mains, unless only the battery breaks it. */
function shownVolts(device: Device): number {
  const { worstVolts, batteryVolts } = device
  const byBattery = isUnder(batteryVolts, device) && !isUnder(worstVolts, device)
  return (byBattery ? batteryVolts : (worstVolts ?? batteryVolts)) ?? Number.NaN
}

/** All, or where they are many those that are not met and those with least to spare. */
function named({ devices }: VoltsFigureInput): readonly Device[] {
  if (devices.length <= mostNamed) return devices
  const spare = ({ worstVolts, minimumVolts }: Device): number => (worstVolts ?? 99) - (minimumVolts ?? 0)
  return devices
    .toSorted((one, other) => Number(other.broken) - Number(one.broken) || spare(one) - spare(other))
    .slice(0, Math.max(6, devices.filter(({ broken }) => broken).length))
}

const around = ({ x, y }: Point, reach: number): Box => ({
  left: x - reach,
  right: x + reach,
  top: y - reach,
  bottom: y + reach,
})

function deviceBoxes(
  { metres, minimumVolts, worstVolts, batteryVolts }: Device,
  scale: Scale,
  low: number,
): readonly Box[] {
  const x = scale.x(metres)
  return [
    ...(minimumVolts === null || minimumVolts < low
      ? []
      : [
          {
            left: x - tickReach,
            right: x + tickReach,
            top: scale.y(minimumVolts) - 2,
            bottom: scale.y(minimumVolts) + 2,
          },
        ]),
    ...[worstVolts, batteryVolts].flatMap((volts) =>
      volts === null ? [] : [around({ x, y: scale.y(volts) }, dotRadius)],
    ),
  ]
}

function deviceShapes(device: Device, scale: Scale, low: number): readonly Shape[] {
  const { metres, minimumVolts, worstVolts, batteryVolts, broken, load } = device
  const x = scale.x(metres)
  const ink: Ink = isUnder(worstVolts, device) ? 'red' : 'blue'
  const part = `device ${load}`
  const shapes: Shape[] = []
  const lowest = [worstVolts, batteryVolts].filter((each) => each !== null)
  if (minimumVolts !== null) {
    const off = minimumVolts < low
    const y = scale.y(Math.max(low, minimumVolts))
    const tick: Ink = broken ? 'red' : 'ink'
    for (const volts of lowest.slice(0, 1))
      shapes.push({
        form: 'line',
        from: { x, y: scale.y(volts) },
        to: { x, y },
        width: 0.9,
        ink: tick,
        dash: [1.5, 2.5],
        part,
      })
    shapes.push(
      off
        ? {
            form: 'outline',
            points: [
              { x: x - 4, y: y - 5 },
              { x, y },
              { x: x + 4, y: y - 5 },
            ],
            closed: false,
            width: 1.2,
            ink: tick,
            part: `minimum ${load}`,
          }
        : {
            form: 'line',
            from: { x: x - tickReach, y },
            to: { x: x + tickReach, y },
            width: 1.6,
            ink: tick,
            part: `minimum ${load}`,
          },
    )
  }
  if (batteryVolts !== null) {
    const under = isUnder(batteryVolts, device)
    shapes.push({
      form: 'circle',
      centre: { x, y: scale.y(batteryVolts) },
      radius: 2.4,
      width: 1.2,
      ink: under ? 'red' : 'soft',
      part,
    })
  }
  if (worstVolts !== null) shapes.push({ ...dot({ x, y: scale.y(worstVolts) }, dotRadius, ink), part })
  return shapes
}

function legendLine(
  key: 'worst' | 'battery',
  words: string,
  area: Box,
  index: number,
  textSize: number,
): readonly Shape[] {
  const y = 8 + index * (textSize + 5) + textSize * 0.5
  return [
    {
      form: 'line',
      from: { x: area.left, y },
      to: { x: area.left + 22, y },
      width: key === 'worst' ? 1.8 : 1.2,
      ink: key === 'worst' ? 'blue' : 'soft',
      ...(key === 'worst' ? {} : { dash: [5, 3] as const }),
    },
    key === 'worst'
      ? dot({ x: area.left + 11, y }, dotRadius, 'blue')
      : { form: 'circle', centre: { x: area.left + 11, y }, radius: 2.4, width: 1.2, ink: 'soft' },
    {
      form: 'text',
      at: { x: area.left + 28, y: y + textSize * 0.35 },
      text: words,
      size: textSize,
      ink: 'soft',
      align: 'start',
    },
  ]
}

/** For paper. */
export const voltsFigureDrawings = (
  input: VoltsFigureInput,
  { width, height, textSize }: VoltsBox,
): readonly Drawing[] => [voltsAlongRun(input, { width, height, textSize })]

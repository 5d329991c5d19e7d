// Volts along the run and the riser: nothing outside the drawing, no word over another, legible at twenty supplies.
import { describe, expect, test } from 'vitest'
import type { RiserFigureInput } from '../../../core/documents/index.ts'
import { keptPower, outputPage } from '../../../core/power/index.ts'
import { riserInputs } from '../../../core/documents/index.ts'
import {
  boxOf,
  overlap,
  riserDrawings,
  voltsAlongRun,
  type Drawing,
} from '../../../renderer/drawing/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'

const data = jobDataOf(demoRecords())
const job = keptPower(data).read()

const outside = ({ width, height, shapes }: Drawing): number =>
  shapes
    .map(boxOf)
    .filter(
      ({ left, right, top, bottom }) => left < -1 || top < -1 || right > width + 1 || bottom > height + 1,
    ).length

const wordsOverWords = ({ shapes }: Drawing): readonly string[] => {
  const texts = shapes.flatMap((shape) =>
    shape.form === 'text' ? [{ text: shape.text, box: boxOf(shape) }] : [],
  )
  return texts.flatMap((one, index) =>
    texts
      .slice(index + 1)
      .filter((other) => overlap(one.box, other.box))
      .map((other) => `${one.text} | ${other.text}`),
  )
}

describe('volts along the run', () => {
  const figures = job.supplies.flatMap(({ supply }) =>
    supply.outputs.flatMap(({ id }) => {
      const figure = outputPage(data, job, id)?.figure
      return figure == null ? [] : [figure]
    }),
  )

  test.each([420, 690, 860])('every output of the demo job is clear at %i points', (width) => {
    expect(figures.length).toBeGreaterThan(20)
    for (const figure of figures) {
      const drawing = voltsAlongRun(figure, { width, height: 300, textSize: 11 })
      expect(outside(drawing), figure.name).toBe(0)
      expect(wordsOverWords(drawing), figure.name).toEqual([])
    }
  })

  test('names what is not met in red, and says all of it to a screen reader', () => {
    const figure = figures.find(({ name }) => name === 'PS3 output 2')!
    const { shapes, name } = voltsAlongRun(figure, { width: 860, height: 300, textSize: 11 })
    const red = shapes.flatMap((shape) => (shape.form === 'text' && shape.ink === 'red' ? [shape.text] : []))
    expect(red).toEqual(['210 M1, 18.69 V'])
    expect(name).toMatch(
      /210 M1 at 305 ft: 20\.\d+ V at worst, 18\.69 V at the end of the battery, at least 19\.2 V needed, not met/,
    )
  })
})

describe('riser', () => {
  test('shows every opening that is fed, each output once', () => {
    const [input] = riserInputs(data, job)
    const words = riserDrawings(input!, { width: 1100, height: 640, textSize: 8 })
      .flatMap(({ shapes }) => shapes)
      .flatMap((shape) => (shape.form === 'text' ? [shape.text] : []))
      .join(' ')
    expect(words).toContain('207 (140 ft) to 216 (70 ft) to 210 (95 ft)')
    for (const mark of ['118', 'R06', '305']) expect(words).toContain(`${mark} (`)
  })

  test.each([1, 5, 20, 60])('with %i supplies nothing covers anything, at the size of print', (count) => {
    const [demo] = riserInputs(data, job)
    const supplies = Array.from({ length: count }, (_, index) => ({
      ...demo!.supplies[index % demo!.supplies.length]!,
      mark: `PS${index + 1}`,
    }))
    const input: RiserFigureInput = { ...demo!, supplies }
    const room = { width: 1100, height: 640, textSize: 8 }
    const drawings = riserDrawings(input, room)
    for (const drawing of drawings) {
      expect(outside(drawing)).toBe(0)
      expect(wordsOverWords(drawing)).toEqual([])
      expect(drawing.width).toBeLessThanOrEqual(room.width)
      // Nothing is scaled down, so the words stay at their size.
      expect(drawing.height).toBeLessThanOrEqual(room.height)
    }
    const marks = drawings.flatMap(({ shapes }) =>
      shapes.flatMap((shape) =>
        shape.form === 'outline' && shape.part?.startsWith('supply') === true ? [shape.part] : [],
      ),
    )
    expect(new Set(marks).size).toBe(count)
  })
})

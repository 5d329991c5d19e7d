// A bar to hold a rule against: it shows whether a printer has scaled the page.
import type { MeasuringBarInput } from '../../core/documents/index.ts'
import { micrometresPerInch } from '../../core/job/index.ts'
import type { Drawing, Shape } from '../drawing/index.ts'

/** A PostScript point is 1/72 inch. Source: ISO 32000-1, 8.3.2.3. */
export const pointsOf = (micrometres: number): number => (micrometres / micrometresPerInch) * 72

const edge = 4
const barHeight = 14
const wordsSize = 8
const tenths = [...Array(11).keys()]

export function measuringBar({ lengthMicrometres, lengthWords }: MeasuringBarInput): Drawing {
  const length = pointsOf(lengthMicrometres)
  const foot = edge + barHeight
  const ticks = tenths.map((tenth): Shape => {
    const x = edge + (length * tenth) / 10
    const high = tenth % 10 === 0 ? barHeight : tenth === 5 ? barHeight * 0.7 : barHeight * 0.45
    return {
      form: 'line',
      from: { x, y: foot - high },
      to: { x, y: foot },
      width: 0.5,
      ink: 'ink',
      part: 'tick',
    }
  })
  const sentence = `This bar must measure ${lengthWords}. If it does not, print again without fitting to the page.`
  return {
    width: length + edge * 2,
    height: foot + wordsSize + 8,
    name: sentence,
    shapes: [
      {
        form: 'line',
        from: { x: edge, y: foot },
        to: { x: edge + length, y: foot },
        width: 0.5,
        ink: 'ink',
        part: 'bar',
      },
      ...ticks,
      {
        form: 'text',
        at: { x: edge, y: foot + wordsSize + 3 },
        text: sentence,
        size: wordsSize,
        ink: 'ink',
        align: 'start',
      },
    ],
  }
}

// The small marks that stand in a table's cell. They read without colour.
import type { CellMark } from '../../core/documents/index.ts'
import type { Drawing, Shape } from './shapes.ts'

const bar = (height: number): Shape[] => [
  {
    form: 'polygon',
    fill: 'red',
    points: [
      { x: 0, y: 0 },
      { x: height, y: 0 },
      { x: height, y: height },
      { x: 0, y: height },
    ],
  },
  {
    form: 'line',
    from: { x: height * 0.2, y: height * 0.2 },
    to: { x: height * 0.8, y: height * 0.8 },
    width: 0.9,
    ink: 'sheet',
  },
]

/** A cell's mark, as high as the capitals beside it. */
export function cellMark(mark: CellMark, capitalHeight: number): Drawing {
  const h = capitalHeight
  switch (mark) {
    case 'not known':
      // The ring stands a little over the capitals so that the question mark in it stays legible.
      return {
        name: 'not known',
        width: h * 1.5,
        height: h,
        shapes: [
          {
            form: 'circle',
            centre: { x: h * 0.75, y: h * 0.5 },
            radius: h * 0.75,
            width: 0.55,
            ink: 'brass',
          },
          { form: 'text', at: { x: h * 0.75, y: h * 0.92 }, text: '?', size: h * 1.22, ink: 'brass' },
        ],
      }
    case 'own':
      return {
        name: 'differs from the typical',
        width: h * 0.72,
        height: h,
        shapes: [
          {
            form: 'polygon',
            fill: 'brass',
            points: [
              { x: h * 0.36, y: h * 0.14 },
              { x: h * 0.72, y: h * 0.5 },
              { x: h * 0.36, y: h * 0.86 },
              { x: 0, y: h * 0.5 },
            ],
          },
        ],
      }
    case 'question':
      return {
        name: 'has a question',
        width: h * 0.72,
        height: h,
        shapes: [
          { form: 'circle', centre: { x: h * 0.36, y: h * 0.5 }, radius: h * 0.32, width: 0.8, ink: 'brass' },
        ],
      }
    case 'broken':
      return { name: 'a limit is broken', width: h, height: h, shapes: bar(h) }
  }
}

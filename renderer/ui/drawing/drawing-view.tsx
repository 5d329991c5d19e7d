// Paints neutral shapes as SVG, in the colours of the scheme.
import { Fragment, memo, type ReactNode } from 'react'
import type { Drawing, Ink, Point, Shape } from '../../drawing/index.ts'

const colourOf = (ink: Ink): string => `var(--${ink})`
const dashOf = (dash: readonly [number, number] | undefined): string | undefined => dash?.join(' ')
const pointsOf = (points: readonly Point[]): string => points.map(({ x, y }) => `${x},${y}`).join(' ')

/** Edges along the axes keep to whole pixels; slanted ones are smoothed. */
const isUpright = (points: readonly Point[]): boolean =>
  points.every((point, index) => {
    const next = points[index + 1]
    return next === undefined || next.x === point.x || next.y === point.y
  })
const rendering = (points: readonly Point[]): 'crispEdges' | undefined =>
  isUpright(points) ? 'crispEdges' : undefined

const anchors = { start: 'start', end: 'end', middle: 'middle' } as const

function painted(shape: Shape): ReactNode {
  switch (shape.form) {
    case 'line':
      return (
        <line
          x1={shape.from.x}
          y1={shape.from.y}
          x2={shape.to.x}
          y2={shape.to.y}
          stroke={colourOf(shape.ink)}
          strokeWidth={shape.width}
          strokeDasharray={dashOf(shape.dash)}
          shapeRendering={rendering([shape.from, shape.to])}
        />
      )
    case 'circle':
      return (
        <circle
          cx={shape.centre.x}
          cy={shape.centre.y}
          r={shape.radius}
          fill="none"
          stroke={colourOf(shape.ink)}
          strokeWidth={shape.width}
          strokeDasharray={dashOf(shape.dash)}
        />
      )
    case 'polygon':
      return (
        <polygon
          points={pointsOf(shape.points)}
          fill={colourOf(shape.fill)}
          shapeRendering={rendering(shape.points)}
        />
      )
    case 'outline': {
      const Form = shape.closed ? 'polygon' : 'polyline'
      return (
        <Form
          points={pointsOf(shape.points)}
          fill="none"
          stroke={colourOf(shape.ink)}
          strokeWidth={shape.width}
          strokeDasharray={dashOf(shape.dash)}
          shapeRendering={rendering(shape.points)}
        />
      )
    }
    case 'text':
      return (
        <text
          x={shape.at.x}
          y={shape.at.y}
          fontSize={shape.size}
          fontWeight={600}
          fontFamily="var(--narrow)"
          textAnchor={anchors[shape.align ?? 'middle']}
          fill={colourOf(shape.ink)}
        >
          {shape.text}
        </text>
      )
  }
}

export interface DrawingViewProps {
  readonly drawing: Drawing
  /** Read out instead of the drawing's own name; null where the words beside it, or its cell, already say it. */
  readonly label?: string | null
}

/** A drawing at its own size, one point to the pixel. */
export const DrawingView = memo(({ drawing, label = drawing.name }: DrawingViewProps) => {
  const { width, height } = drawing
  const said = label === null ? { 'aria-hidden': true } : { role: 'img', 'aria-label': label }
  return (
    <svg
      {...said}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      display="block"
      focusable="false"
    >
      {drawing.shapes.map((shape, index) =>
        // Shapes have no identity of their own: a drawing is painted anew as a whole.
        shape.part === undefined ? (
          <Fragment key={index}>{painted(shape)}</Fragment>
        ) : (
          <g key={index} data-part={shape.part}>
            {painted(shape)}
          </g>
        ),
      )}
    </svg>
  )
})
DrawingView.displayName = 'DrawingView'

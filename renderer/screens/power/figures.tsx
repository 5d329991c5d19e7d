// Figures of power as cells show them.
import type { ReactNode } from 'react'
import { figure, type LoadFigures, type LowestDevice, type Verdict } from '../../../core/power/index.ts'
import { point, type PointedPower } from './power-state.ts'

export const markOf = (verdict: Verdict): string =>
  verdict === 'not met' ? 'broken' : verdict === 'not known' ? 'open' : ''

/** A figure that the margin explains when the cursor or the focus is on it. */
export function Explained({
  about,
  label,
  onPress,
  mark = '',
  children,
}: {
  readonly about: PointedPower
  /** Read out; the figure alone would not say whose it is. */
  readonly label: string
  readonly onPress?: (() => void) | undefined
  readonly mark?: string
  readonly children: ReactNode
}) {
  return (
    <button
      type="button"
      className={`explained ${mark}`}
      aria-label={label}
      onMouseEnter={() => point(about)}
      onFocus={() => point(about)}
      onClick={() => {
        point(about)
        onPress?.()
      }}
    >
      {children}
    </button>
  )
}

const barWidth = 84
const barHeight = 8

/** How much of the rating is used, with a line where the limit is. */
export function LoadBar({
  amps,
  rated,
  limit,
  verdict,
}: {
  readonly amps: number | null
  readonly rated: number | null
  readonly limit: number | null
  readonly verdict: Verdict
}) {
  if (amps === null || rated === null) return <span className="open">not known</span>
  const share = (value: number): number => Math.min(1, value / rated) * barWidth
  return (
    <span className="load-bar">
      <svg width={barWidth} height={barHeight + 6} aria-hidden="true" focusable="false">
        <rect x={0} y={3} width={barWidth} height={barHeight} fill="var(--wash)" />
        <rect
          x={0}
          y={3}
          width={share(amps)}
          height={barHeight}
          fill={verdict === 'not met' ? 'var(--red)' : 'var(--blue)'}
        />
        {limit !== null && limit < rated && (
          <rect x={share(limit) - 1} y={0} width={2} height={barHeight + 6} fill="var(--ink)" />
        )}
      </svg>
      <span className="load-share">{figure((amps / rated) * 100, 0)} %</span>
    </span>
  )
}

export const holdingWords = (load: LoadFigures): string =>
  load.holdingAmps === null || load.ratedAmps === null
    ? 'holding load not known'
    : `holding ${figure(load.holdingAmps, 2)} A, ${figure((load.holdingAmps / load.ratedAmps) * 100, 0)} % of its rating${load.withinLimit === 'not met' ? ', over the loading limit' : ''}`

export const worstLoadWords = (load: LoadFigures): string =>
  load.worstAmps === null || load.ratedAmps === null
    ? 'worst moment not known'
    : `worst moment ${figure(load.worstAmps, 2)} A, ${figure((load.worstAmps / load.ratedAmps) * 100, 0)} % of its rating${load.withinRating === 'not met' ? ', over its rating' : ''}`

/** The volts of the device that is worst off, and its name under them. */
export function LowestFigure({
  lowest,
  onPress,
}: {
  readonly lowest: LowestDevice
  readonly onPress?: () => void
}) {
  const { volts, verdict, name, outputId, load, scenario } = lowest
  const shown = volts !== null ? figure(volts, 1) : verdict === 'not met' ? 'cannot be fed' : 'not known'
  return (
    <Explained
      about={{ form: 'device', outputId, load, name, scenario }}
      label={`${shown} ${name}, ${volts === null ? 'lowest volts' : `V, ${verdict}`}`}
      mark={markOf(verdict)}
      onPress={onPress}
    >
      {shown}
      <span className="whose"> {name}</span>
    </Explained>
  )
}

export const verdictWords: Readonly<Record<Verdict, string>> = {
  met: 'met',
  'not met': 'not met',
  'not known': 'not known',
  'does not apply': '—',
}

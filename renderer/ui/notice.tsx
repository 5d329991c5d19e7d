import type { ReactNode } from 'react'
import { Label, ProgressBar } from 'react-aria-components'
import { Button } from './button.tsx'

export interface NoticeProps {
  /** `question`: an answer is wanted. `stop`: something was refused or is broken. Default `plain`. */
  readonly kind?: 'plain' | 'question' | 'stop'
  readonly children: ReactNode
  readonly actions?: ReactNode
  readonly onClose?: () => void
}

/** One strip, one sentence, read out politely. It stays until it is answered or closed. */
export const Notice = ({ kind = 'plain', children, actions, onClose }: NoticeProps) => (
  <div className={`notice ${kind}`}>
    <div role="status" className="notice-text">
      {children}
    </div>
    {actions}
    {onClose !== undefined && (
      <Button kind="quiet" onPress={onClose}>
        Close
      </Button>
    )}
  </div>
)

export interface ProgressProps {
  readonly label: string
  /** From 0 to 1; null while nobody knows. */
  readonly share: number | null
  /** In place of the percentage: 3,200 of 10,000 rows. */
  readonly text?: string
}

export const Progress = ({ label, share, text }: ProgressProps) => (
  <ProgressBar
    className="progress"
    isIndeterminate={share === null}
    value={(share ?? 0) * 100}
    {...(text === undefined ? {} : { valueLabel: text })}
  >
    {({ percentage, valueText }) => (
      <>
        <Label>{label}</Label>
        <span className="progress-text">{share === null ? text : valueText}</span>
        <div className="progress-track">
          <div
            className={share === null ? 'progress-fill unknown' : 'progress-fill'}
            style={share === null ? {} : { width: `${percentage ?? 0}%` }}
          />
        </div>
      </>
    )}
  </ProgressBar>
)

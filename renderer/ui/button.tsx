import type { ReactNode } from 'react'
import { Button as AriaButton } from 'react-aria-components'

export interface ButtonProps {
  /** `main`: the one thing to do here. `quiet`: reads as text. `danger`: takes something away. Default `plain`. */
  readonly kind?: 'main' | 'plain' | 'quiet' | 'danger'
  readonly children: ReactNode
  /** For a button whose words are not enough by themselves. */
  readonly label?: string
  /** Shown behind the words: Ctrl+Z. */
  readonly keyShown?: string
  readonly disabled?: boolean
  readonly autoFocus?: boolean
  readonly onPress: () => void
}

export const Button = (props: ButtonProps) => (
  <AriaButton
    className={`button ${props.kind ?? 'plain'}`}
    isDisabled={props.disabled === true}
    onPress={props.onPress}
    {...(props.autoFocus === true ? { autoFocus: true } : {})}
    {...(props.label === undefined ? {} : { 'aria-label': props.label })}
  >
    {props.children}
    {props.keyShown !== undefined && <kbd>{props.keyShown}</kbd>}
  </AriaButton>
)

import { useLayoutEffect, useRef, type FocusEvent } from 'react'

const controls = 'select:enabled, button:enabled, input:enabled, a[href]'

/**
 * Keeps the keyboard in a list whose lines go away when they are answered: when the line with the focus is gone, the
 * line that took its place has it. For the element around the tables.
 */
export function useKeptFocus<Around extends HTMLElement>() {
  const around = useRef<Around>(null)
  const held = useRef<{ element: Element; line: number } | null>(null)
  useLayoutEffect(() => {
    if (held.current === null || held.current.element.isConnected) return
    const lines = around.current?.querySelectorAll('tbody tr') ?? []
    const at = Math.min(held.current.line, lines.length - 1)
    held.current = null
    if (document.activeElement !== document.body) return
    lines[at]?.querySelector<HTMLElement>(controls)?.focus()
  })
  const onFocus = (event: FocusEvent<Around>): void => {
    const line = event.target.closest('tbody tr')
    if (line === null) return
    const lines = [...event.currentTarget.querySelectorAll('tbody tr')]
    held.current = { element: event.target, line: lines.indexOf(line) }
  }
  return { ref: around, onFocus }
}

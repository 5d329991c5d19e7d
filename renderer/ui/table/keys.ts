/** What a key asks of the table when nothing is being typed. */
export type KeyDeed =
  | { readonly do: 'move'; readonly to: MoveTo; readonly extend: boolean }
  | { readonly do: 'next'; readonly by: 1 | -1 }
  | { readonly do: 'commitLine'; readonly by: 1 | -1 }
  | { readonly do: 'edit' }
  | { readonly do: 'type'; readonly text: string | null }
  | { readonly do: 'leave' | 'clear' | 'selectAll' | 'selectRows' | 'fill' | 'open' | 'menu' }
  | { readonly do: 'resize'; readonly by: number }

export type MoveTo =
  | 'up'
  | 'down'
  | 'left'
  | 'right'
  | 'top'
  | 'bottom'
  | 'first'
  | 'last'
  | 'start'
  | 'end'
  | 'pageUp'
  | 'pageDown'

export interface KeyPress {
  readonly key: string
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly shiftKey: boolean
  readonly altKey: boolean
}

const plainMoves: Readonly<Record<string, MoveTo>> = {
  ArrowUp: 'up',
  ArrowDown: 'down',
  ArrowLeft: 'left',
  ArrowRight: 'right',
  Home: 'first',
  End: 'last',
  PageUp: 'pageUp',
  PageDown: 'pageDown',
}

const controlMoves: Readonly<Record<string, MoveTo>> = {
  ArrowUp: 'top',
  ArrowDown: 'bottom',
  ArrowLeft: 'first',
  ArrowRight: 'last',
  Home: 'start',
  End: 'end',
}

const controlDeed = (press: KeyPress): KeyDeed | null => {
  const to = controlMoves[press.key]
  if (to !== undefined) return { do: 'move', to, extend: press.shiftKey }
  if (press.shiftKey) return null
  const key = press.key.toLowerCase()
  if (key === 'a') return { do: 'selectAll' }
  if (key === 'd') return { do: 'fill' }
  return null
}

const plainDeed = (press: KeyPress): KeyDeed | null => {
  const back = press.shiftKey ? -1 : 1
  switch (press.key) {
    case 'Tab':
      return { do: 'next', by: back }
    case 'Enter':
      return { do: 'commitLine', by: back }
    case 'F2':
      return { do: 'edit' }
    case 'Escape':
      return { do: 'leave' }
    case 'Delete':
      return { do: 'clear' }
    case 'Backspace':
      return { do: 'type', text: '' }
    case ' ':
      return { do: press.shiftKey ? 'selectRows' : 'open' }
    case 'ContextMenu':
      return { do: 'menu' }
    case 'F10':
      return press.shiftKey ? { do: 'menu' } : null
    // A dead key or an input method makes its letter later, in the field that opens now.
    case 'Dead':
    case 'Process':
      return { do: 'type', text: null }
    default:
      return [...press.key].length === 1 ? { do: 'type', text: press.key } : null
  }
}

/** Null: not for the table; the key goes on to whoever listens further out (undo, find). */
export const keyDeed = (press: KeyPress): KeyDeed | null => {
  const altGraph = press.ctrlKey && press.altKey
  if (press.altKey && !altGraph) {
    const sign = press.key === 'ArrowRight' ? 1 : press.key === 'ArrowLeft' ? -1 : 0
    return sign === 0 ? null : { do: 'resize', by: sign * (press.shiftKey ? 1 : 8) }
  }
  // AltGr arrives as Ctrl+Alt on some keyboards and writes letters such as @ there.
  if (altGraph) return [...press.key].length === 1 ? { do: 'type', text: press.key } : null
  if (press.ctrlKey || press.metaKey) return controlDeed(press)
  const to = plainMoves[press.key]
  if (to !== undefined) return { do: 'move', to, extend: press.shiftKey }
  return plainDeed(press)
}

import { useId, useLayoutEffect, useRef, useState, type KeyboardEvent, type RefObject } from 'react'

/** Where the table goes after the text was taken. */
export type AfterEdit = 'stay' | 'down' | 'up' | 'right' | 'left' | 'next' | 'previous'

/** `replace`: begun by typing, arrow keys move on. `change`: begun by F2, arrow keys move the caret. */
export type EditMode = 'replace' | 'change'

export interface CellEditorProps {
  readonly label: string
  readonly start: string
  readonly mode: EditMode
  readonly alignEnd: boolean
  readonly choices: readonly string[]
  readonly onTake: (text: string, after: AfterEdit) => void
  readonly onCancel: () => void
}

const arrows: Readonly<Record<string, AfterEdit>> = {
  ArrowUp: 'up',
  ArrowDown: 'down',
  ArrowLeft: 'left',
  ArrowRight: 'right',
}

const sameText = (one: string, other: string): boolean =>
  one.localeCompare(other, undefined, { sensitivity: 'accent' }) === 0

/** Choices that hold the text, those that begin with it first. */
export const matchingChoices = (choices: readonly string[], text: string): readonly string[] => {
  const wanted = text.trim().toLocaleLowerCase()
  if (wanted === '') return choices
  const begins = (choice: string): boolean => choice.toLocaleLowerCase().startsWith(wanted)
  const holds = (choice: string): boolean => choice.toLocaleLowerCase().includes(wanted)
  return [...choices.filter(begins), ...choices.filter((choice) => !begins(choice) && holds(choice))]
}

/** The choice Enter would take: the same text, else the first that begins with it; -1 keeps what was typed. */
export const likelyChoice = (shown: readonly string[], text: string): number => {
  const wanted = text.trim()
  if (wanted === '') return -1
  const exact = shown.findIndex((choice) => sameText(choice, wanted))
  if (exact >= 0) return exact
  return shown.findIndex((choice) => choice.toLocaleLowerCase().startsWith(wanted.toLocaleLowerCase()))
}

const placeList = (input: HTMLInputElement, list: HTMLElement): void => {
  const box = input.getBoundingClientRect()
  const height = list.offsetHeight
  const below = box.bottom + 2
  const fits = below + height <= window.innerHeight || box.top - 2 - height < 0
  list.style.minWidth = `${box.width}px`
  list.style.left = `${Math.max(0, Math.min(box.left, window.innerWidth - list.offsetWidth - 4))}px`
  list.style.top = `${fits ? below : box.top - 2 - height}px`
}

interface ChoiceListProps {
  readonly id: string
  readonly input: RefObject<HTMLInputElement | null>
  readonly shown: readonly string[]
  readonly taken: number
  readonly onPick: (choice: string) => void
}

const ChoiceList = ({ id, input, shown, taken, onPick }: ChoiceListProps) => {
  const list = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    if (list.current === null || input.current === null) return
    // The top layer: neither the cell nor the table cuts it off.
    if (!list.current.matches(':popover-open')) list.current.showPopover()
    placeList(input.current, list.current)
    list.current.querySelector('[aria-selected=true]')?.scrollIntoView({ block: 'nearest' })
  })
  return (
    <div ref={list} id={id} popover="manual" role="listbox" aria-label="Choices" className="cell-choices">
      {shown.map((choice, index) => (
        <div
          key={choice}
          id={`${id}-${index}`}
          role="option"
          aria-selected={index === taken}
          tabIndex={-1}
          className="cell-choice"
          onPointerDown={(event) => {
            event.preventDefault()
            event.stopPropagation()
            onPick(choice)
          }}
        >
          {choice === '' ? '(empty)' : choice}
        </div>
      ))}
    </div>
  )
}

/** The field that lies over a cell while it is typed into. Takes its text once, on Enter, Tab, or when left. */
export const CellEditor = (props: CellEditorProps) => {
  const { label, start, mode, alignEnd, choices, onTake, onCancel } = props
  const input = useRef<HTMLInputElement>(null)
  const finished = useRef(false)
  const [text, setText] = useState(start)
  const [picked, setPicked] = useState<number | null>(null)
  const listId = useId()
  const untouched = mode === 'change' && text === start
  const shown = untouched ? choices : matchingChoices(choices, text)
  const taken = picked ?? likelyChoice(shown, text)
  const open = shown.length > 0

  useLayoutEffect(() => {
    const field = input.current
    if (field === null) return
    field.focus({ preventScroll: true })
    if (mode === 'change') field.select()
    else field.setSelectionRange(field.value.length, field.value.length)
  }, [mode])

  const take = (value: string, after: AfterEdit): void => {
    if (finished.current) return
    finished.current = true
    onTake(value, after)
  }
  const best = (): string => shown[taken] ?? text
  const pickBy = (by: number): void => {
    setPicked((taken + by + shown.length) % shown.length)
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.nativeEvent.isComposing) return
    const { key, shiftKey } = event
    const caretKeys = event.ctrlKey || event.metaKey || event.altKey
    if (key === 'Enter') take(best(), shiftKey ? 'up' : 'down')
    else if (key === 'Tab') take(best(), shiftKey ? 'previous' : 'next')
    else if (key === 'Escape') {
      finished.current = true
      // A dialog around the table would close.
      event.stopPropagation()
      onCancel()
    } else if (open && key === 'ArrowDown') pickBy(1)
    else if (open && key === 'ArrowUp') pickBy(-1)
    else if (mode === 'replace' && !caretKeys && !shiftKey && arrows[key] !== undefined)
      take(best(), arrows[key])
    else return
    event.preventDefault()
  }
  return (
    <>
      <input
        ref={input}
        className={alignEnd ? 'cell-field at-end' : 'cell-field'}
        aria-label={label}
        role={choices.length > 0 ? 'combobox' : undefined}
        aria-expanded={choices.length > 0 ? open : undefined}
        aria-controls={open ? listId : undefined}
        aria-autocomplete={choices.length > 0 ? 'list' : undefined}
        aria-activedescendant={open && taken >= 0 ? `${listId}-${taken}` : undefined}
        value={text}
        spellCheck={false}
        autoComplete="off"
        onChange={(event) => {
          setText(event.currentTarget.value)
          setPicked(null)
        }}
        onBlur={() => {
          // Another window came to the front: the person is still typing here.
          if (document.hasFocus()) take(best(), 'stay')
        }}
        onKeyDown={onKeyDown}
      />
      {open && (
        <ChoiceList
          id={listId}
          input={input}
          shown={shown}
          taken={taken}
          onPick={(choice) => take(choice, 'stay')}
        />
      )}
    </>
  )
}

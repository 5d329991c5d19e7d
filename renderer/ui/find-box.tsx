import { useEffect, useId, useRef, useState, type KeyboardEvent } from 'react'
import { Dialog as AriaDialog, Modal, ModalOverlay } from 'react-aria-components'

export interface FindEntry {
  readonly key: string
  readonly label: string
  /** Softer, after the label: where it stands, what it is. */
  readonly detail?: string
  /** Shown at the right: a key that does the same. */
  readonly keyShown?: string
}

export interface FindGroup {
  readonly key: string
  readonly title: string
  readonly entries: readonly FindEntry[]
}

export interface FindBoxProps {
  /** What can be found, as the field's name. */
  readonly label: string
  readonly open: boolean
  readonly onClose: () => void
  /** Called as the person types, with empty text first. `signal` says that the answer is no longer wanted. */
  readonly find: (text: string, signal: AbortSignal) => Promise<readonly FindGroup[]>
  readonly onPick: (entry: FindEntry, groupKey: string) => void
}

const WAIT_MILLISECONDS = 60

interface Found {
  readonly groups: readonly FindGroup[]
  readonly waiting: boolean
  readonly failed: boolean
}

const useFound = (text: string, find: FindBoxProps['find']): Found => {
  const [found, setFound] = useState<Found>({ groups: [], waiting: true, failed: false })
  useEffect(() => {
    const stop = new AbortController()
    setFound((now) => ({ ...now, waiting: true }))
    const timer = setTimeout(() => {
      find(text, stop.signal).then(
        (groups) => {
          if (!stop.signal.aborted) setFound({ groups, waiting: false, failed: false })
        },
        () => {
          if (!stop.signal.aborted) setFound({ groups: [], waiting: false, failed: true })
        },
      )
    }, WAIT_MILLISECONDS)
    return () => {
      clearTimeout(timer)
      stop.abort()
    }
  }, [text, find])
  return found
}

const FindContent = ({ label, find, onPick, onClose }: FindBoxProps) => {
  const [text, setText] = useState('')
  const [at, setAt] = useState(0)
  const { groups, waiting, failed } = useFound(text, find)
  const list = useRef<HTMLDivElement>(null)
  const id = useId()
  const flat = groups.flatMap((group) => group.entries.map((entry) => ({ entry, groupKey: group.key })))
  const chosen = Math.min(at, flat.length - 1)
  useEffect(() => {
    list.current?.querySelector('[aria-selected=true]')?.scrollIntoView({ block: 'nearest' })
  }, [chosen])
  const pick = (index: number): void => {
    const wanted = flat[index]
    if (wanted === undefined) return
    onClose()
    onPick(wanted.entry, wanted.groupKey)
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.nativeEvent.isComposing || flat.length === 0) return
    const page = 8
    const moves: Readonly<Record<string, number>> = {
      ArrowDown: (chosen + 1) % flat.length,
      ArrowUp: (chosen - 1 + flat.length) % flat.length,
      PageDown: Math.min(flat.length - 1, chosen + page),
      PageUp: Math.max(0, chosen - page),
    }
    const next = moves[event.key]
    // Enter before the answer is there would open what was found for the text before.
    if (event.key === 'Enter' && !waiting) pick(chosen)
    else if (next !== undefined) setAt(next)
    else if (event.key !== 'Enter') return
    event.preventDefault()
  }
  const sentence = failed
    ? 'Nothing could be looked up just now.'
    : waiting
      ? ''
      : flat.length === 0
        ? 'Nothing found.'
        : `${flat.length} found.`
  return (
    <>
      <input
        className="find-field"
        role="combobox"
        aria-label={label}
        aria-expanded={flat.length > 0}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={chosen >= 0 ? `${id}-${chosen}` : undefined}
        placeholder={label}
        autoFocus
        autoComplete="off"
        spellCheck={false}
        value={text}
        onChange={(event) => {
          setText(event.currentTarget.value)
          setAt(0)
        }}
        onKeyDown={onKeyDown}
      />
      <div
        ref={list}
        id={`${id}-list`}
        role="listbox"
        aria-label="Found"
        tabIndex={-1}
        className={waiting ? 'find-list waiting' : 'find-list'}
      >
        {groups
          .filter((group) => group.entries.length > 0)
          .map((group) => (
            <div key={group.key} role="group" aria-label={group.title}>
              <div className="menu-title" aria-hidden="true">
                {group.title}
              </div>
              {group.entries.map((entry) => {
                const here = flat.findIndex((one) => one.entry === entry)
                return (
                  <div
                    key={entry.key}
                    id={`${id}-${here}`}
                    role="option"
                    aria-selected={here === chosen}
                    tabIndex={-1}
                    className="find-entry"
                    onPointerMove={() => setAt(here)}
                    onClick={() => pick(here)}
                  >
                    <span className="find-label">{entry.label}</span>
                    {entry.detail !== undefined && <span className="find-detail">{entry.detail}</span>}
                    {entry.keyShown !== undefined && <kbd>{entry.keyShown}</kbd>}
                  </div>
                )
              })}
            </div>
          ))}
      </div>
      <div role="status" className={flat.length === 0 && !waiting ? 'find-none' : 'for-ears'}>
        {sentence}
      </div>
    </>
  )
}

/** One box over everything that can be found or done: type, Up and Down, Enter. */
export const FindBox = (props: FindBoxProps) => (
  <ModalOverlay
    className="dialog-cover find-cover"
    isOpen={props.open}
    onOpenChange={(opens) => {
      if (!opens) props.onClose()
    }}
    isDismissable
  >
    <Modal className="find-box">
      <AriaDialog aria-label={props.label} className="find-content">
        <FindContent {...props} />
      </AriaDialog>
    </Modal>
  </ModalOverlay>
)

export interface FindOpenerProps {
  readonly label: string
  readonly keyShown: string
  readonly onOpen: () => void
}

/** What stands in the top bar and opens the box. */
export const FindOpener = ({ label, keyShown, onOpen }: FindOpenerProps) => (
  <button type="button" className="find-opener" onClick={onOpen}>
    <span>{label}</span>
    <kbd>{keyShown}</kbd>
  </button>
)

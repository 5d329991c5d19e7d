import { useEffect, useId, useRef, useState, type KeyboardEvent } from 'react'
import type { ShelfFound } from '../../../core/contract/index.ts'
import { detailOf, openFound, searchShelf } from './shelf-search.ts'

const waitMilliseconds = 60
/** As many as one reads while somebody is on the telephone. */
const mostShown = 12

interface Answered {
  readonly words: string
  readonly found: readonly ShelfFound[]
}

/** One field over every job file at hand: type what the caller says, Up and Down, Enter. */
export function SearchShelf({ indexed }: { readonly indexed?: number | undefined }) {
  const [words, setWords] = useState('')
  const [answered, setAnswered] = useState<Answered>({ words: '', found: [] })
  const [at, setAt] = useState(0)
  const list = useRef<HTMLDivElement>(null)
  const id = useId()
  useEffect(() => {
    let wanted = true
    const timer = setTimeout(() => {
      void searchShelf(words, mostShown).then((found) => {
        if (wanted) setAnswered({ words, found })
      })
    }, waitMilliseconds)
    return () => {
      wanted = false
      clearTimeout(timer)
    }
    // Asked again when another job was read into the index.
  }, [words, indexed])
  const { found } = answered
  const waiting = answered.words !== words
  const chosen = Math.min(at, found.length - 1)
  useEffect(() => {
    list.current?.querySelector('[aria-selected=true]')?.scrollIntoView({ block: 'nearest' })
  }, [chosen])
  const pick = (index: number): void => {
    const wanted = found[index]
    if (wanted !== undefined) void openFound(wanted, words)
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.nativeEvent.isComposing || found.length === 0) return
    const moves: Readonly<Record<string, number>> = {
      ArrowDown: (chosen + 1) % found.length,
      ArrowUp: (chosen - 1 + found.length) % found.length,
    }
    const next = moves[event.key]
    // Enter before the answer is there would open what was found for the words before.
    if (event.key === 'Enter' && !waiting) pick(chosen)
    else if (next !== undefined) setAt(next)
    else if (event.key !== 'Enter') return
    event.preventDefault()
  }
  return (
    <div className="shelf-search">
      <input
        className="find-field"
        role="combobox"
        aria-label="What the caller says: a room, a mark, a serial"
        aria-expanded={found.length > 0}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={found.length > 0 ? `${id}-${chosen}` : undefined}
        placeholder="What the caller says: “the store room door on three will not lock again”"
        autoFocus
        autoComplete="off"
        spellCheck={false}
        value={words}
        onChange={(event) => {
          setWords(event.currentTarget.value)
          setAt(0)
        }}
        onKeyDown={onKeyDown}
      />
      <div
        ref={list}
        id={`${id}-list`}
        role="listbox"
        aria-label="Found on the shelf"
        className={waiting ? 'shelf-found waiting' : 'shelf-found'}
      >
        {found.map((each, index) => (
          <div
            key={`${each.jobPath} ${each.kind} ${each.id}`}
            id={`${id}-${index}`}
            role="option"
            aria-selected={index === chosen}
            tabIndex={-1}
            className="find-entry"
            onPointerMove={() => setAt(index)}
            onClick={() => pick(index)}
          >
            <span className="find-label">{each.title}</span>
            <span className="find-detail">{detailOf(each)}</span>
          </div>
        ))}
      </div>
      <p
        role="status"
        className={words.trim() !== '' && !waiting && found.length === 0 ? 'padded soft' : 'for-ears'}
      >
        {words.trim() === '' || waiting
          ? ''
          : found.length === 0
            ? 'Nothing on the shelf answers to that. Try the room, the level or the mark alone.'
            : `${found.length} found.`}
      </p>
    </div>
  )
}

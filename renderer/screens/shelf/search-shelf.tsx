import { useEffect, useId, useRef, useState, type KeyboardEvent } from 'react'
import type { ShelfFound } from '../../../core/contract/index.ts'
import { detailOf, openFound, searchShelf } from './shelf-search.ts'

const waitMilliseconds = 60
/** While folders are looked through, there may be more to find. */
const againMilliseconds = 400
/** As many as one reads while somebody is on the telephone. */
const mostShown = 12

interface Answered {
  readonly words: string
  readonly found: readonly ShelfFound[]
}

/** One field over every job file at hand: type what the caller says, Up and Down, Enter. */
export function SearchShelf() {
  const [words, setWords] = useState('')
  const [answered, setAnswered] = useState<Answered>({ words: '', found: [] })
  const [at, setAt] = useState(0)
  const list = useRef<HTMLDivElement>(null)
  // Enter before the answer is there opens the first of it, never what was found for the words before.
  const hurried = useRef(false)
  const id = useId()
  useEffect(() => {
    let wanted = true
    let timer = setTimeout(look, waitMilliseconds)
    function look(): void {
      void searchShelf(words, mostShown).then(({ found, refreshing }) => {
        if (!wanted) return
        setAnswered({ words, found })
        const [best] = found
        if (hurried.current && best !== undefined) void openFound(best, words)
        else if (refreshing && words.trim() !== '') timer = setTimeout(look, againMilliseconds)
        if (best !== undefined || !refreshing) hurried.current = false
      })
    }
    return () => {
      wanted = false
      clearTimeout(timer)
    }
  }, [words])
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
    if (event.nativeEvent.isComposing) return
    if (event.key === 'Enter' && waiting) {
      hurried.current = true
      event.preventDefault()
    }
    if (found.length === 0) return
    const moves: Readonly<Record<string, number>> = {
      ArrowDown: (chosen + 1) % found.length,
      ArrowUp: (chosen - 1 + found.length) % found.length,
    }
    const next = moves[event.key]
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
          hurried.current = false
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

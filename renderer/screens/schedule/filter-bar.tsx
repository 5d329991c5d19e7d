import { useEffect, useRef } from 'react'
import { groupings, type Arrangement, type Grouping } from '../../../core/schedule/index.ts'
import { Button, Choice } from '../../ui/index.ts'
import { arrange, useWindow } from '../window-state.ts'

const groupingWords: Readonly<Record<Grouping, string>> = {
  level: 'Level',
  building: 'Building',
  typical: 'Typical',
  label: 'Fire label',
  furnished: 'Furnished by',
  nothing: 'No groups',
}

const onlyWords: Readonly<Record<Arrangement['only'], string>> = {
  all: 'All openings',
  questions: 'With open questions',
  differing: 'Differing from the typical',
}

/** What is shown: words, which openings, how they are grouped, and what is being left aside. */
export function FilterBar() {
  const arrangement = useWindow((state) => state.arrangement)
  const frame = useWindow((state) => state.job?.frame)
  const field = useRef<HTMLInputElement>(null)
  useEffect(() => {
    const toField = (event: KeyboardEvent): void => {
      if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'f') {
        event.preventDefault()
        field.current?.select()
      }
    }
    window.addEventListener('keydown', toField)
    return () => window.removeEventListener('keydown', toField)
  }, [])
  const chosen = [
    ...arrangement.levelIds.map((id) => ({
      key: `level ${id}`,
      words: frame?.levels.find((level) => level.id === id)?.name ?? 'A level',
      without: { levelIds: arrangement.levelIds.filter((each) => each !== id) },
    })),
    ...arrangement.typicalIds.map((id) => ({
      key: `typical ${id}`,
      words: frame?.typicals.find((typical) => typical.id === id)?.name ?? 'A typical',
      without: { typicalIds: arrangement.typicalIds.filter((each) => each !== id) },
    })),
  ]
  return (
    <div className="filter-bar" role="search">
      <label className="filter-words">
        <span className="for-ears">Words that rows must hold</span>
        <input
          ref={field}
          type="search"
          className="field-input"
          placeholder="Show rows with these words"
          value={arrangement.words}
          onChange={(event) => arrange({ words: event.currentTarget.value })}
          onKeyDown={(event) => {
            if (event.key === 'Escape') arrange({ words: '' })
          }}
        />
        <kbd>Ctrl F</kbd>
      </label>
      <Choice
        label="Show"
        value={arrangement.only}
        options={Object.entries(onlyWords).map(([key, label]) => ({ key, label }))}
        onChange={(only) => arrange({ only: only as Arrangement['only'] })}
      />
      <Choice
        label="Group by"
        value={arrangement.group}
        options={groupings.map((key) => ({ key, label: groupingWords[key] }))}
        onChange={(group) => arrange({ group: group as Grouping })}
      />
      {chosen.map((each) => (
        <span key={each.key} className="filter-chosen">
          only {each.words}
          <Button kind="quiet" label={`Show more than ${each.words}`} onPress={() => arrange(each.without)}>
            ×
          </Button>
        </span>
      ))}
    </div>
  )
}

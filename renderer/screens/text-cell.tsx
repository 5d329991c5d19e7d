import { useId, useState } from 'react'

/** A field that is written when it is left or Enter is pressed; Escape leaves it as it was. Empty text is null. */
export function TextCell({
  text,
  label,
  hint = '—',
  locked,
  choices = [],
  onSet,
}: {
  readonly text: string | null
  readonly label: string
  readonly hint?: string | undefined
  readonly locked: boolean
  readonly choices?: readonly string[]
  readonly onSet: (text: string | null) => unknown
}) {
  const [draft, setDraft] = useState<string | null>(null)
  const listId = useId()
  const settle = async (): Promise<void> => {
    if (draft === null) return
    const wanted = draft.trim()
    if (wanted !== (text ?? '')) await onSet(wanted === '' ? null : wanted)
    // Refused or taken, the page shows what the job now says; the notice says why.
    setDraft(null)
  }
  return (
    <>
      <input
        className="cell-input"
        aria-label={label}
        value={draft ?? text ?? ''}
        placeholder={locked ? '' : hint}
        readOnly={locked}
        list={choices.length > 0 ? listId : undefined}
        onChange={(event) => setDraft(event.currentTarget.value)}
        onBlur={() => void settle()}
        onKeyDown={(event) => {
          if (event.key === 'Enter') event.currentTarget.blur()
          if (event.key === 'Escape' && draft !== null) {
            event.stopPropagation()
            setDraft(null)
          }
        }}
      />
      {choices.length > 0 && (
        <datalist id={listId}>
          {choices.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </datalist>
      )}
    </>
  )
}

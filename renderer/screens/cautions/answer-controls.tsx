// Giving an answer where the question stands: yes or no, a number with its unit, one of several words.
import { useId, useState } from 'react'
import {
  answerCommand,
  expectedWords,
  readValue,
  writeValue,
  type AnswerAt,
  type CautionCount,
  type FactForm,
  type FactValue,
  type KeptAnswerRecord,
} from '../../../core/cautions/index.ts'
import { marksWords } from '../../../core/documents/index.ts'
import { Button } from '../../ui/index.ts'
import { makeChange, tell, useWindow, type OpenJob } from '../window-state.ts'
import { placeWords } from './places.ts'

/** Keeps an answer at a place, and says which openings have a caution more or less for it. */
export async function giveAnswer(
  job: OpenJob,
  kept: readonly KeptAnswerRecord[],
  given: { readonly fact: string; readonly value: FactValue; readonly at: AnswerAt },
): Promise<boolean> {
  const taken = await makeChange(answerCommand({ ...given, placeWords: placeWords(job, given.at) }, kept))
  const after = useWindow.getState().job
  if (taken && after !== null) sayMoved(job, after)
  return taken
}

const mostMarks = 12

function sayMoved(before: OpenJob, after: OpenJob): void {
  const more: string[] = []
  const fewer: string[] = []
  for (const [id, count] of after.cautions) {
    const was = before.cautions.get(id)
    const by = was === undefined || was === count ? 0 : cautionsIn(count) - cautionsIn(was)
    if (by > 0) more.push(after.rows.get(id)?.mark ?? '')
    if (by < 0) fewer.push(after.rows.get(id)?.mark ?? '')
  }
  const words = [
    ...(more.length === 0 ? [] : [`More cautions than before: ${marksWords(more, mostMarks)}.`]),
    ...(fewer.length === 0 ? [] : [`Fewer cautions than before: ${marksWords(fewer, mostMarks)}.`]),
  ]
  if (words.length > 0) tell({ weight: more.length > 0 ? 'question' : 'told', words: words.join(' ') })
}

const cautionsIn = ({ canTrap, breaks, asks }: CautionCount): number => canTrap + breaks + asks

export interface AnswerControlsProps {
  readonly form: FactForm
  /** What is answered now, as it is kept; null where nothing is. */
  readonly value: string | null
  /** The question, for those who cannot see where this stands. */
  readonly label: string
  readonly disabled: boolean
  readonly onAnswer: (value: FactValue) => void
}

export function AnswerControls(props: AnswerControlsProps) {
  switch (props.form.form) {
    case 'yes or no':
      return <YesOrNo {...props} />
    case 'one of':
      return <OneOf {...props} of={props.form.of} />
    case 'number':
      return <Typed {...props} unit={props.form.unit} />
    case 'some of':
      return <Typed {...props} unit={null} />
  }
}

function YesOrNo({ value, label, disabled, onAnswer }: AnswerControlsProps) {
  return (
    <span className="answer-buttons" role="group" aria-label={label}>
      {(['yes', 'no'] as const).map((each) => (
        <button
          key={each}
          type="button"
          className="answer-button"
          aria-pressed={value === each}
          disabled={disabled}
          onClick={() => onAnswer(each === 'yes')}
        >
          {each === 'yes' ? 'Yes' : 'No'}
        </button>
      ))}
    </span>
  )
}

function OneOf({ value, label, disabled, onAnswer, of }: AnswerControlsProps & { of: readonly string[] }) {
  return (
    <select
      className="plain-select"
      aria-label={label}
      value={value ?? ''}
      disabled={disabled}
      onChange={(event) => {
        if (event.currentTarget.value !== '') onAnswer(event.currentTarget.value)
      }}
    >
      <option value="">Choose an answer</option>
      {of.map((each) => (
        <option key={each} value={each}>
          {each}
        </option>
      ))}
    </select>
  )
}

/** Text that is an answer once it means one; Enter gives it. */
function Typed({
  form,
  value,
  label,
  disabled,
  onAnswer,
  unit,
}: AnswerControlsProps & { unit: string | null }) {
  const [draft, setDraft] = useState<string | null>(null)
  const problemId = useId()
  const text = draft ?? value ?? ''
  const read = readValue(form, text.replace(/^(\d+),(\d+)$/, '$1.$2'))
  const wrong = draft !== null && draft.trim() !== '' && read === null
  const give = (): void => {
    if (read === null || draft === null || draft.trim() === '') return
    if (writeValue(read) !== value) onAnswer(read)
    setDraft(null)
  }
  return (
    <span className="answer-typed">
      <input
        className={unit === null ? 'answer-input wide' : 'answer-input'}
        aria-label={unit === null ? label : `${label} (${unit})`}
        aria-invalid={wrong}
        aria-describedby={wrong ? problemId : undefined}
        inputMode={unit === null ? 'text' : 'decimal'}
        value={text}
        placeholder={unit === null ? 'A-2, B' : ''}
        disabled={disabled}
        onChange={(event) => setDraft(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === 'Enter') give()
          if (event.key === 'Escape' && draft !== null) {
            event.stopPropagation()
            setDraft(null)
          }
        }}
      />
      {unit !== null && <span className="soft">{unit}</span>}
      {draft !== null && read !== null && (
        <Button kind="quiet" label={`Answer: ${label}`} onPress={give}>
          Answer
        </Button>
      )}
      {wrong && (
        <span id={problemId} className="answer-problem">
          {`“${text.trim()}” does not fit; ${expectedWords(form)}.`}
        </span>
      )}
    </span>
  )
}

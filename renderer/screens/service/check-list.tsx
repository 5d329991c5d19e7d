import { useState } from 'react'
import type { CallPage } from '../../../core/contract/index.ts'
import { symptomWords, type Check, type Symptom } from '../../../core/service/index.ts'
import { Button, SheetHeading } from '../../ui/index.ts'
import { choose, pointAt, useService } from './service-state.ts'

/** More than these is for somebody who has found nothing yet. */
const usuallyShown = 8

/** The symptoms that this opening can have, and what to check first for the one chosen. */
export function CheckList({
  page,
  symptom,
  words,
}: {
  readonly page: CallPage
  readonly symptom: Symptom | null
  /** What the caller said. */
  readonly words: string
}) {
  const here = page.checks.find((each) => each.symptom === symptom)
  const [all, setAll] = useState(false)
  if (here === undefined)
    return (
      <section aria-label="What to check first">
        <SheetHeading level={2} title="What to check first" />
        <p className="padded soft">
          Nothing can be worked out yet: this opening has no fittings that say what they do. Give it a
          typical.
        </p>
      </section>
    )
  return (
    <section aria-label="What to check first">
      <SheetHeading
        level={2}
        title="What to check first"
        facts="worked out for this opening, the likeliest first"
      />
      <fieldset className="symptoms">
        <legend className="for-ears">What is the matter?</legend>
        {page.checks.map((each) => (
          <label key={each.symptom}>
            <input
              type="radio"
              name={`symptom ${page.openingId}`}
              checked={each.symptom === here.symptom}
              onChange={() => choose(page.openingId, words, each.symptom)}
            />
            <span>{symptomWords[each.symptom]}</span>
          </label>
        ))}
      </fieldset>
      {here.caution !== null && <p className="check-caution">{here.caution}</p>}
      <ol className="checks">
        {here.checks.slice(0, all ? undefined : usuallyShown).map((check, index) => (
          <CheckLine key={check.key} check={check} first={index < 3} />
        ))}
      </ol>
      {!all && here.checks.length > usuallyShown && (
        <p className="more-checks">
          <Button kind="quiet" onPress={() => setAll(true)}>
            {here.checks.length - usuallyShown} more, less likely
          </Button>
        </p>
      )}
    </section>
  )
}

function CheckLine({ check, first }: { readonly check: Check; readonly first: boolean }) {
  const pointed = useService((state) => state.pointed?.key === check.key)
  return (
    <li className={`check${first ? ' first' : ''}${pointed ? ' current' : ''}`}>
      <button
        type="button"
        className="check-look"
        aria-expanded={pointed}
        onClick={() => pointAt(pointed ? null : check)}
        onMouseEnter={() => pointAt(check)}
        onFocus={() => pointAt(check)}
      >
        {check.look}
      </button>
      <span
        className={
          check.expected === null && check.question !== null ? 'check-expected question' : 'check-expected'
        }
      >
        {check.expected ?? check.question ?? ''}
        {check.last !== null && <span className="soft check-last">{check.last}</span>}
      </span>
      <span className="check-because">{check.because}</span>
    </li>
  )
}

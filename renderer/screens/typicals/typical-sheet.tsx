import { useEffect, useState } from 'react'
import type { TypicalPage } from '../../../core/contract/index.ts'
import { tradeFields, type TradeField } from '../../../core/job/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Citation, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { NameCell } from '../job/index.ts'
import { AddPart } from '../opening/index.ts'
import { goTo } from '../place.ts'
import { arrange, makeChange, stopFor, useWindow } from '../window-state.ts'

function useTypicalPage(typicalId: string): TypicalPage | null {
  const revision = useWindow((state) => state.revision)
  const [page, setPage] = useState<TypicalPage | null>(null)
  useEffect(() => {
    let wanted = true
    void ask('typical.read', { typicalId }).then((answer) => {
      if (!wanted) return
      if (answer.ok) setPage(answer.value)
      else if (answer.problem.code === 'gone') goTo({ sheet: 'schedule' })
      else stopFor(answer.problem)
    })
    return () => {
      wanted = false
    }
  }, [typicalId, revision])
  return page
}

const tradeHeadings: Readonly<Record<TradeField, string>> = {
  furnishedBy: 'Furnished by',
  fittedBy: 'Fitted by',
  wiredBy: 'Wired by',
  terminatedBy: 'Terminated by',
}

/** One typical: who does what, which parts, and who differs. */
export function TypicalSheet({ typicalId }: { readonly typicalId: string }) {
  const job = useWindow((state) => state.job)
  const page = useTypicalPage(typicalId)
  const typical = job?.frame.typicals.find((each) => each.id === typicalId)
  if (job === null || typical === undefined) return null
  const locked = job.state.readOnly !== null
  const set = (
    fields: { readonly [Field in TradeField | 'description']?: string | null } & { name?: string },
  ): void => void makeChange({ does: 'set typical', typicalId, fields })
  return (
    <div className="page">
      <SheetHeading
        title={typical.name}
        facts={`typical, followed by ${typical.openings} ${typical.openings === 1 ? 'opening' : 'openings'}`}
        actions={
          <>
            <Button
              disabled={typical.openings === 0}
              onPress={() => {
                arrange({ typicalIds: [typicalId], levelIds: [], words: '', only: 'all' })
                goTo({ sheet: 'schedule' })
              }}
            >
              Show its openings
            </Button>
            <Button
              kind="danger"
              disabled={locked || typical.openings > 0}
              onPress={() => void makeChange({ does: 'remove typical', typicalId })}
            >
              Remove
            </Button>
          </>
        }
      />
      <dl className="fact-grid">
        <div>
          <dt>Name</dt>
          <dd>
            <NameCell name={typical.name} label="Name" locked={locked} onSet={(name) => set({ name })} />
          </dd>
        </div>
        {tradeFields.map((field) => (
          <div key={field}>
            <dt>{tradeHeadings[field]}</dt>
            <dd>
              <TextCell
                text={typical[field]}
                label={tradeHeadings[field]}
                locked={locked}
                onSet={(value) => set({ [field]: value })}
              />
            </dd>
          </div>
        ))}
        <div className="wide">
          <dt>Description</dt>
          <dd>
            <TextCell
              text={typical.description}
              label="Description"
              locked={locked}
              onSet={(description) => set({ description })}
            />
          </dd>
        </div>
      </dl>
      <SheetHeading level={2} title="Fittings" facts="every opening that follows it has these" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Fitting</th>
            <th scope="col">Part</th>
            {tradeFields.map((field) => (
              <th key={field} scope="col">
                {tradeHeadings[field]}
              </th>
            ))}
            <th scope="col">
              <span className="for-ears">Deeds</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {page?.fittings.map((fitting) => {
            const setFitting = (
              fields: { readonly [Field in TradeField]?: string | null } & { tag?: string },
            ): void => void makeChange({ does: 'set typical fitting', typicalFittingId: fitting.id, fields })
            return (
              <tr key={fitting.id}>
                <td className="mark">
                  <NameCell
                    name={fitting.tag}
                    label="Tag"
                    locked={locked}
                    onSet={(tag) => setFitting({ tag })}
                  />
                </td>
                <td className="part">{fitting.part?.name ?? 'part not known'}</td>
                {tradeFields.map((field) => (
                  <td key={field}>
                    <TextCell
                      text={fitting[field]}
                      label={`${tradeHeadings[field]}, ${fitting.tag}`}
                      hint={typical[field] ?? undefined}
                      locked={locked}
                      onSet={(value) => setFitting({ [field]: value })}
                    />
                  </td>
                ))}
                <td className="deeds">
                  <Button
                    kind="quiet"
                    disabled={locked}
                    label={`Take out ${fitting.tag}`}
                    onPress={() =>
                      void makeChange({ does: 'remove typical fitting', typicalFittingId: fitting.id })
                    }
                  >
                    Take out
                  </Button>
                </td>
              </tr>
            )
          })}
          {page?.fittings.length === 0 && (
            <tr>
              <td colSpan={7} className="soft">
                No fittings yet. Add the parts this arrangement is made of.
              </td>
            </tr>
          )}
        </tbody>
      </table>
      {!locked && (
        <AddPart
          job={job}
          label="Add a part"
          onAdd={(partId) => makeChange({ does: 'add typical fitting', typicalId, partId, tag: null })}
        />
      )}
    </div>
  )
}

function TextCell({
  text,
  label,
  hint,
  locked,
  onSet,
}: {
  readonly text: string | null
  readonly label: string
  readonly hint?: string | undefined
  readonly locked: boolean
  readonly onSet: (text: string | null) => void
}) {
  const [draft, setDraft] = useState<string | null>(null)
  return (
    <input
      className="cell-input"
      aria-label={label}
      value={draft ?? text ?? ''}
      placeholder={hint ?? '—'}
      readOnly={locked}
      onChange={(event) => setDraft(event.currentTarget.value)}
      onBlur={() => {
        if (draft !== null && draft.trim() !== (text ?? '')) onSet(draft.trim() === '' ? null : draft.trim())
        setDraft(null)
      }}
      onKeyDown={(event) => {
        if (event.key === 'Enter') event.currentTarget.blur()
        if (event.key === 'Escape' && draft !== null) {
          event.stopPropagation()
          setDraft(null)
        }
      }}
    />
  )
}

export function TypicalMargin({ typicalId }: { readonly typicalId: string }) {
  const page = useTypicalPage(typicalId)
  if (page === null) return null
  return (
    <>
      <MarginTitle>
        {page.differing.length === 0
          ? 'Every opening follows it in everything'
          : `${page.differing.length} ${page.differing.length === 1 ? 'opening differs' : 'openings differ'} on purpose`}
      </MarginTitle>
      {page.differing.slice(0, 12).map((each) => (
        <MarginText key={each.openingId}>
          <a href={`#/opening/${encodeURIComponent(each.openingId)}`}>{each.mark}</a>: {each.words.join('; ')}
          .
        </MarginText>
      ))}
      {page.differing.length > 12 && <MarginText>And {page.differing.length - 12} more.</MarginText>}
      {page.notes !== null && <MarginText>{page.notes}</MarginText>}
      <MarginText>
        What is changed here reaches every opening that follows it. What an opening says for itself stays as
        it is.
      </MarginText>
      <Citation>Empty trade cells of a fitting are as the typical says.</Citation>
    </>
  )
}

import { useEffect } from 'react'
import type { TypicalPage } from '../../../core/contract/index.ts'
import { tradeFields, type TradeField } from '../../../core/job/index.ts'
import { Button, Citation, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { NameCell } from '../job/index.ts'
import { ExplainedText, PartsDialogs, useExplaining } from '../parts/index.ts'
import { openPartsDialog } from '../parts-dialog-state.ts'
import { goTo, hrefOf } from '../place.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { arrange, makeChange, useWindow, type OpenJob } from '../window-state.ts'
import { DoingBar, TypicalDoing, useLineChanges } from './typical-doing.tsx'
import { TypicalFittings } from './typical-fittings.tsx'
import { TypicalLinks } from './typical-links.tsx'
import { TypicalSettings } from './typical-settings.tsx'
import { setTrying, useTypical } from './typical-state.ts'
import './typicals.css'

const tradeHeadings: Readonly<Record<TradeField, string>> = {
  furnishedBy: 'Furnished by',
  fittedBy: 'Fitted by',
  wiredBy: 'Wired by',
  terminatedBy: 'Terminated by',
}

type Typical = OpenJob['frame']['typicals'][number]

/** One typical: what it does, which parts, how they are linked and set, who does what, and who differs. */
export function TypicalSheet({ typicalId }: { readonly typicalId: string }) {
  const job = useWindow((state) => state.job)
  const { trying, fedBy } = useTypical()
  const page = useAsked('typical.read', { typicalId })
  const look = useAsked('typical.look', {
    typicalId,
    trying: (trying ?? []).map(({ command }) => command),
    fedBy,
  })
  const { changes, forget } = useLineChanges(look)
  useExplaining()
  useEffect(() => () => setTrying(null), [])
  const typical = job?.frame.typicals.find((each) => each.id === typicalId)
  if (job === null || typical === undefined) return null
  const locked = job.state.readOnly !== null
  return (
    <div className="page typical-page">
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
              disabled={locked}
              onPress={() => openPartsDialog({ form: 'new typical', likeTypicalId: typicalId })}
            >
              Copy
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
      {look !== null && <DoingBar look={look} changes={changes} onForget={forget} locked={locked} />}
      <TypicalFacts typical={typical} notes={page?.notes ?? null} locked={locked} />
      {look !== null && (
        <>
          <TypicalFittings typicalId={typicalId} name={typical.name} look={look} job={job} locked={locked} />
          <TypicalLinks typicalId={typicalId} name={typical.name} look={look} locked={locked} />
          <TypicalSettings look={look} locked={locked} />
          <TypicalDoing look={look} changes={changes} />
        </>
      )}
      {page !== null && <WhoDoesWhat page={page} typical={typical} locked={locked} />}
      <PartsDialogs />
    </div>
  )
}

function TypicalFacts({
  typical,
  notes,
  locked,
}: {
  readonly typical: Typical
  readonly notes: string | null
  readonly locked: boolean
}) {
  const set = (fields: { description?: string | null; name?: string; notes?: string | null }): void =>
    void makeChange({ does: 'set typical', typicalId: typical.id, fields })
  return (
    <dl className="fact-grid">
      <div>
        <dt>Name</dt>
        <dd>
          <NameCell name={typical.name} label="Name" locked={locked} onSet={(name) => set({ name })} />
        </dd>
      </div>
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
      <div className="wide">
        <dt>Notes</dt>
        <dd>
          <TextCell text={notes} label="Notes" locked={locked} onSet={(text) => set({ notes: text })} />
        </dd>
      </div>
    </dl>
  )
}

/** Who furnishes, fits, wires and terminates: for the whole, and for a fitting where it differs. */
function WhoDoesWhat({
  page,
  typical,
  locked,
}: {
  readonly page: TypicalPage
  readonly typical: Typical
  readonly locked: boolean
}) {
  return (
    <section aria-label="Who does what">
      <SheetHeading level={2} title="Who does what" facts="a fitting’s empty cell is as for the whole" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Fitting</th>
            {tradeFields.map((field) => (
              <th key={field} scope="col">
                {tradeHeadings[field]}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          <tr>
            <td className="mark">All of it</td>
            {tradeFields.map((field) => (
              <td key={field}>
                <TextCell
                  text={typical[field]}
                  label={tradeHeadings[field]}
                  locked={locked}
                  onSet={(value) =>
                    makeChange({ does: 'set typical', typicalId: typical.id, fields: { [field]: value } })
                  }
                />
              </td>
            ))}
          </tr>
          {page.fittings.map((fitting) => (
            <tr key={fitting.id}>
              <td className="mark">
                {fitting.tag} <span className="soft">{fitting.part?.kind}</span>
              </td>
              {tradeFields.map((field) => (
                <td key={field}>
                  <TextCell
                    text={fitting[field]}
                    label={`${tradeHeadings[field]}, ${fitting.tag}`}
                    hint={typical[field] ?? undefined}
                    locked={locked}
                    onSet={(value) =>
                      makeChange({
                        does: 'set typical fitting',
                        typicalFittingId: fitting.id,
                        fields: { [field]: value },
                      })
                    }
                  />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

export function TypicalMargin({ typicalId }: { readonly typicalId: string }) {
  const page = useAsked('typical.read', { typicalId })
  const fedBy = useTypical((state) => state.fedBy)
  const typicals = useWindow((state) => state.job?.frame.typicals)
  const openings = typicals?.find(({ id }) => id === typicalId)?.openings ?? 0
  if (page === null) return null
  return (
    <>
      <ExplainedText />
      <MarginTitle>
        {page.differing.length === 0
          ? openings === 0
            ? 'No opening follows it yet'
            : 'Every opening follows it in everything'
          : `${page.differing.length} ${page.differing.length === 1 ? 'opening differs' : 'openings differ'} on purpose`}
      </MarginTitle>
      {page.differing.slice(0, 12).map((each) => (
        <MarginText key={each.openingId}>
          <a href={hrefOf({ sheet: 'opening', openingId: each.openingId })}>{each.mark}</a>:{' '}
          {each.words.join('; ')}.
        </MarginText>
      ))}
      {page.differing.length > 12 && <MarginText>And {page.differing.length - 12} more.</MarginText>}
      <MarginText>
        What is changed here reaches every opening that follows it. What an opening says for itself stays as
        it is.
      </MarginText>
      <MarginText>
        {fedBy === 'not known'
          ? 'A typical by itself hangs on no supply, so what it does without the mains is often a question here. Say above what to take for granted of the feed; nothing of that is written.'
          : 'What feeds it is taken for granted while you look, and the fire alarm system is taken to run on its own battery. On an opening its run and supply decide.'}
      </MarginText>
      <Citation>
        Local codes and the authority having jurisdiction decide what a doorway must do; electrified locking
        is work for licensed people.
      </Citation>
    </>
  )
}

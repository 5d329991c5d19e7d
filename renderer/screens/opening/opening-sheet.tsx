import { useEffect, useState } from 'react'
import type { OpeningPage } from '../../../core/contract/index.ts'
import type { EffectiveFitting } from '../../../core/job/index.ts'
import {
  scheduleColumns,
  scheduleQuestions,
  type ColumnKey,
  type Command,
  type ScheduleRow,
} from '../../../core/schedule/index.ts'
import { Button, Choice, Citation, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { OpeningCautions, PointedCaution } from '../cautions/index.ts'
import { momentWords } from '../history/index.ts'
import { BehaviourTable } from '../behaviour-table.tsx'
import { useOpeningPage } from '../opening-page.ts'
import { goTo } from '../place.ts'
import { OpeningElevation, OpeningPreparation, PointedHole } from '../preparation/index.ts'
import { OpeningWiring } from '../runs/index.ts'
import { OpeningFeed } from '../power/index.ts'
import { OpeningSettings, PointedSetting } from '../settings/index.ts'
import { TextCell } from '../text-cell.tsx'
import { makeChange, revealOpening, useWindow, type OpenJob } from '../window-state.ts'

/** The openings in the order the schedule shows them. */
function useOrder(): readonly string[] {
  return useWindow((state) => state.groups).flatMap((group) => group.rows.map((row) => row.id))
}

export function OpeningSheet({ openingId }: { readonly openingId: string }) {
  const job = useWindow((state) => state.job)
  const page = useOpeningPage(openingId)
  const order = useOrder()
  const at = order.indexOf(openingId)
  useEffect(() => revealOpening(openingId), [openingId])
  useEffect(() => {
    const turn = (event: KeyboardEvent): void => {
      const by = event.key === 'PageDown' ? 1 : event.key === 'PageUp' ? -1 : 0
      const next = by === 0 || at < 0 ? undefined : order[at + by]
      if (next === undefined || document.querySelector('[role=dialog]') !== null) return
      event.preventDefault()
      goTo({ sheet: 'opening', openingId: next })
    }
    window.addEventListener('keydown', turn)
    return () => window.removeEventListener('keydown', turn)
  }, [order, at])
  const row = job?.rows.get(openingId)
  if (job === null) return null
  if (row === undefined)
    return (
      <div className="page">
        <p>That opening is no longer in this job.</p>
        <Button onPress={() => goTo({ sheet: 'schedule' })}>Back to the schedule</Button>
      </div>
    )
  return (
    <div className="page opening-page">
      <header className="opening-heading">
        <h1>{row.mark}</h1>
        <span className="opening-where">{row.where}</span>
        <span className="soft">{summary(row, job)}</span>
        <span className="sheet-actions">
          <Button
            disabled={at <= 0}
            label="Previous opening"
            onPress={() => turnTo(order[at - 1])}
            keyShown="PgUp"
          >
            Previous
          </Button>
          <Button
            disabled={at < 0 || at >= order.length - 1}
            label="Next opening"
            onPress={() => turnTo(order[at + 1])}
            keyShown="PgDn"
          >
            Next
          </Button>
        </span>
      </header>
      {page !== null && page.row.id === row.id && (
        <div className="opening-doing">
          <OpeningElevation openingId={row.id} />
          <Behaviour behaviour={page.behaviour} />
        </div>
      )}
      {page !== null && page.row.id === row.id && <Fittings row={row} fittings={page.fittings} job={job} />}
      <OpeningPreparation key={`preparation ${row.id}`} row={row} job={job} />
      <OpeningFeed openingId={openingId} />
      <OpeningSettings openingId={openingId} locked={job.state.readOnly !== null} />
      <OpeningWiring openingId={openingId} />
      <OpeningCautions key={row.id} row={row} job={job} />
      <OpeningFacts row={row} job={job} />
      {page?.source != null && page.row.id === row.id && <SourceCells source={page.source} />}
    </div>
  )
}

const turnTo = (openingId: string | undefined): void => {
  if (openingId !== undefined) goTo({ sheet: 'opening', openingId })
}

function summary(row: ScheduleRow, job: OpenJob): string {
  const context = { units: job.frame.job.units, frame: job.frame }
  const text = (key: ColumnKey): string =>
    scheduleColumns.find((column) => column.key === key)?.text(row, context) ?? ''
  const label = text('label')
  return [
    text('size'),
    row.hand ?? '',
    label === '' ? '' : label === 'none' ? 'no fire label' : `${label} label`,
    row.typicalName === null ? 'no typical yet' : `typical “${row.typicalName}”`,
  ]
    .filter((each) => each !== '')
    .join(', ')
}

const notOnPage: ReadonlySet<ColumnKey> = new Set(['building', 'level', 'source'])

/** Every column of the schedule for this one opening, each changed where it stands. */
function OpeningFacts({ row, job }: { readonly row: ScheduleRow; readonly job: OpenJob }) {
  const context = { units: job.frame.job.units, frame: job.frame }
  const locked = job.state.readOnly !== null
  const questions = new Set<string>(scheduleQuestions(row).map((question) => question.column))
  const level = job.frame.levels.find((each) => each.id === row.levelId)?.name
  return (
    <dl className="fact-grid">
      <div>
        <dt>Level</dt>
        <dd className="fixed">{level}</dd>
      </div>
      {scheduleColumns
        .filter((column) => !notOnPage.has(column.key))
        .map((column) => (
          <div
            key={column.key}
            className={column.key === 'notes' ? 'wide' : questions.has(column.key) ? 'question' : ''}
          >
            <dt>{column.heading}</dt>
            <dd>
              <TextCell
                text={column.text(row, context)}
                label={column.heading}
                locked={locked || column.read === undefined}
                choices={column.choices?.(context) ?? []}
                onSet={(text) =>
                  makeChange({
                    does: 'set cells',
                    how: 'type',
                    unreadable: 'refuse',
                    cells: [{ openingId: row.id, column: column.key, text: text ?? '' }],
                  })
                }
              />
            </dd>
          </div>
        ))}
    </dl>
  )
}

/** What the doorway does in every condition, with the reasons. */
function Behaviour({ behaviour }: { readonly behaviour: OpeningPage['behaviour'] }) {
  const { lines, arrangement, cannotTell } = behaviour
  return (
    <section>
      <SheetHeading
        level={2}
        title="What it does"
        facts={arrangement === null ? 'not known yet' : `as designed; way out: ${arrangement.name}`}
      />
      {cannotTell.map((each) => (
        <p key={each} className="padded soft">
          {each}
        </p>
      ))}
      {lines.length > 0 && <BehaviourTable lines={lines} />}
    </section>
  )
}

type FittingFields = Extract<Command, { does: 'set fitting' }>['fields']

function Fittings({
  row,
  fittings,
  job,
}: {
  readonly row: ScheduleRow
  readonly fittings: readonly EffectiveFitting[]
  readonly job: OpenJob
}) {
  const locked = job.state.readOnly !== null
  const set = (fitting: EffectiveFitting, fields: FittingFields): void =>
    void makeChange({
      does: 'set fitting',
      openingId: row.id,
      typicalFittingId: fitting.slot?.id ?? null,
      fittingId: fitting.fitting?.id ?? null,
      fields,
    })
  return (
    <section>
      <SheetHeading
        level={2}
        title="Fittings"
        facts={
          row.typicalName === null
            ? 'added here one by one, until it follows a typical'
            : `as ${row.typicalName} says, where nothing else is marked`
        }
      />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Fitting</th>
            <th scope="col">Part</th>
            <th scope="col">Serial</th>
            <th scope="col">Furnished by</th>
            <th scope="col">Fitted by</th>
            <th scope="col">Differs</th>
            <th scope="col">
              <span className="for-ears">Deeds</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {fittings.map((fitting) => (
            <tr key={fitting.key} className={fitting.leftOut ? 'left-out' : ''}>
              <td className="mark">{fitting.tag}</td>
              <td className="part">{fitting.part?.name ?? 'part not known'}</td>
              <td>
                <TextCell
                  text={fitting.serial}
                  label={`Serial of ${fitting.tag}`}
                  locked={locked || fitting.leftOut}
                  onSet={(serial) => set(fitting, { serial })}
                />
              </td>
              <td className={fitting.trades.furnishedBy.from === 'own' ? 'own' : 'soft'}>
                {fitting.trades.furnishedBy.value ?? '—'}
              </td>
              <td className={fitting.trades.fittedBy.from === 'own' ? 'own' : 'soft'}>
                {fitting.trades.fittedBy.value ?? '—'}
              </td>
              <td className="own">{fitting.differences.join('; ')}</td>
              <td className="deeds">
                {fitting.slot !== null && !fitting.leftOut && (
                  <Button
                    kind="quiet"
                    disabled={locked}
                    label={`Leave out here: ${fitting.tag}`}
                    onPress={() => set(fitting, { leftOut: true })}
                  >
                    Leave out here
                  </Button>
                )}
                {fitting.leftOut && (
                  <Button
                    kind="quiet"
                    disabled={locked}
                    label={`Put it back: ${fitting.tag}`}
                    onPress={() => set(fitting, { leftOut: false })}
                  >
                    Put it back
                  </Button>
                )}
                {fitting.added && fitting.fitting !== null && (
                  <RemoveFitting fittingId={fitting.fitting.id} tag={fitting.tag} locked={locked} />
                )}
              </td>
            </tr>
          ))}
          {fittings.length === 0 && (
            <tr>
              <td colSpan={7} className="soft">
                No fittings yet. Give the opening a typical, or add a part.
              </td>
            </tr>
          )}
        </tbody>
      </table>
      {!locked && (
        <AddPart
          job={job}
          label="Add a part here"
          onAdd={(partId) => makeChange({ does: 'add fitting', openingId: row.id, partId, tag: null })}
        />
      )}
    </section>
  )
}

function RemoveFitting({ fittingId, tag, locked }: { fittingId: string; tag: string; locked: boolean }) {
  return (
    <Button
      kind="quiet"
      disabled={locked}
      label={`Remove ${tag}`}
      onPress={() => void makeChange({ does: 'remove fitting', fittingId })}
    >
      Remove
    </Button>
  )
}

export function AddPart({
  job,
  label,
  onAdd,
}: {
  readonly job: OpenJob
  readonly label: string
  readonly onAdd: (partId: string) => Promise<boolean>
}) {
  const [partId, setPartId] = useState<string | null>(null)
  return (
    <div className="add-line">
      <Choice
        label={label}
        placeholder="Choose a part"
        options={job.parts.map((part) => ({ key: part.id, label: part.name }))}
        value={partId}
        onChange={setPartId}
      />
      <Button
        disabled={partId === null}
        onPress={() => {
          if (partId !== null) void onAdd(partId).then((added) => added && setPartId(null))
        }}
      >
        Add
      </Button>
    </div>
  )
}

function SourceCells({ source }: { readonly source: NonNullable<OpeningPage['source']> }) {
  const cells = Object.entries(source.cells).filter(([, text]) => text !== '')
  return (
    <section>
      <SheetHeading level={2} title="As it was taken in" facts={`${source.file}, ${source.place}`} />
      <dl className="source-cells">
        {cells.map(([heading, text]) => (
          <div key={heading}>
            <dt>{heading}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}

/** What is missing here, and what was done to it last. */
export function OpeningMargin({ openingId }: { readonly openingId: string }) {
  const row = useWindow((state) => state.job?.rows.get(openingId))
  const page = useOpeningPage(openingId)
  if (row === undefined) return null
  const questions = scheduleQuestions(row)
  return (
    <>
      <PointedCaution openingId={openingId} />
      <PointedSetting />
      <PointedHole openingId={openingId} />
      <MarginTitle>
        {questions.length === 0
          ? 'Nothing is missing from the schedule'
          : questions.length === 1
            ? 'One fact is missing'
            : `${questions.length} facts are missing`}
      </MarginTitle>
      {questions.map((question) => (
        <MarginText key={question.column}>
          <i>{question.words}</i> Ask {question.whoCanSay}.
        </MarginText>
      ))}
      {page !== null && page.history.length > 0 && (
        <>
          <MarginTitle>Last changes</MarginTitle>
          {page.history.slice(0, 6).map((entry) => (
            <MarginText key={entry.seq}>
              {entry.name}
              {entry.state === 'done' ? '' : ' (taken back)'}, {entry.who}, {momentWords(entry.at)}.
            </MarginText>
          ))}
        </>
      )}
      <Citation>
        Local codes and the authority having jurisdiction decide what this doorway must do; electrified
        locking is work for licensed people.
      </Citation>
    </>
  )
}
